"""Errors, findings, progress and places: what they carry survives."""

import pickle

import pytest

from wayfold.base.cache import NoCache
from wayfold.base.errors import CancelledError, ConflictError, NotFoundError, UserError
from wayfold.base.findings import Finding, Severity, blocks
from wayfold.base.progress import NoProgress
from wayfold.base.world import LonLat


@pytest.mark.parametrize("kind", [UserError, NotFoundError, ConflictError, CancelledError])
def test_errors_cross_from_worker_processes(kind):
    error = kind("It broke.", where="book.toml", remedy="Mend it.")
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is kind
    assert (back.what, back.where, back.remedy) == ("It broke.", "book.toml", "Mend it.")
    assert str(back) == str(error) == "book.toml: It broke.\nMend it."


def test_an_error_without_place_or_remedy_is_one_line():
    assert str(UserError("It broke.")) == "It broke."


def test_stopping_says_that_nothing_is_lost():
    assert "kept" in CancelledError().remedy


@pytest.mark.parametrize(
    ("severities", "expected"),
    [
        ((), False),
        ((Severity.NOTE, Severity.WARN), False),
        ((Severity.NOTE, Severity.BLOCK), True),
    ],
)
def test_only_blocking_findings_block(severities, expected):
    assert blocks(tuple(Finding("rule", s, "where", "what") for s in severities)) is expected


def test_a_progress_nobody_watches_can_be_reported_to():
    with NoProgress().task("Reading", 2) as task:
        task.advance()
        task.advance(1)


def test_no_cache_keeps_nothing():
    cache = NoCache()
    cache.put("key", b"data")
    assert cache.get("key") is None


@pytest.mark.parametrize(
    ("longitude", "latitude"),
    [(0, 0), (180, 90), (-180, -90), (12.4924, 41.8902)],
)
def test_places_on_earth(longitude, latitude):
    # ISO 6709: latitude from -90 to 90, longitude from -180 to 180 degrees.
    assert LonLat(longitude, latitude).latitude == latitude


@pytest.mark.parametrize(
    ("longitude", "latitude"),
    [(180.1, 0), (-180.1, 0), (0, 90.1), (0, -90.1), (float("nan"), 0), (0, float("inf"))],
)
def test_no_places_on_earth(longitude, latitude):
    with pytest.raises(ValueError, match="no place on earth"):
        LonLat(longitude, latitude)
