"""Many simulated journeys (``clock_world``) with 40 % wrong evidence: how well clocks are read.

Six of each kind; more: ``WAYFOLD_CLOCK_WORLDS=100 python -m pytest tests/trip``.
"""

from __future__ import annotations

import os
from dataclasses import replace
from math import inf

import pytest

from tests.trip.clock_world import World, make_world, measure
from wayfold.trip.clocks.model import ClockReading, State
from wayfold.trip.clocks.read import read_clocks

WORLDS = int(os.environ.get("WAYFOLD_CLOCK_WORLDS", "6"))


def read_worlds(**party: object) -> list[tuple[World, str, ClockReading, float | None]]:
    rows = []
    for seed in range(1000, 1000 + WORLDS):
        world = make_world(seed, **party)  # type: ignore[arg-type]
        clocks = read_clocks(world.photos, world.evidence)
        readings = {r.body.key: r for r in clocks.readings}
        for body in world.bodies:
            error = measure(world, dict(clocks.instants), body)
            rows.append((world, body, readings[body], error))
    return rows


PARTIES = (
    {"phones": 1},
    {"phones": 2},
    {"phones": 0, "track": True},
    {"phones": 1, "track": True},
)


@pytest.fixture(scope="module")
def parties() -> list[list[tuple[World, str, ClockReading, float | None]]]:
    return [read_worlds(**party) for party in PARTIES]


def test_clocks_are_read_to_a_minute_where_a_telephone_or_track_is_there(parties) -> None:
    rows = [row for party in parties for row in party]
    worlds = {id(w): w for w, *_ in rows}.values()
    share = sum(w.wrong for w in worlds) / sum(w.pieces for w in worlds)
    assert 0.35 <= share <= 0.45  # the evidence is as wrong as it is said to be
    assert all(body in world.helped for world, body, *_ in rows)
    assert sum(e is not None and e <= 60 for *_, e in rows) >= 0.95 * len(rows)


@pytest.mark.parametrize(
    ("number", "least"),
    [(0, 0.95), (1, 0.95), (2, 0.95), (3, 0.95)],
    ids=["telephone", "two telephones", "track", "telephone and track"],
)
def test_each_kind_of_party(parties, number: int, least: float) -> None:
    rows = parties[number]
    assert sum(e is not None and e <= 60 for *_, e in rows) >= least * len(rows)
    # What is called known is known: hardly ever is it wrong by more than it says.
    known = [(r, e) for _, _, r, e in rows if r.state is State.KNOWN and e is not None]
    within = [e <= max(s.error_s for s in r.spans if s.error_s < inf) for r, e in known]
    assert sum(within) >= 0.9 * len(known)


def test_a_track_tells_the_time_of_pictures_without_any_place() -> None:
    """Only when the party stood still speaks then; where that is too little, nothing is said."""
    rows = []
    for seed in range(1000, 1000 + WORLDS):
        world = make_world(seed, phones=0, track=True)
        world.photos = [replace(p, place=None, gps_utc=None) for p in world.photos]
        clocks = read_clocks(world.photos, world.evidence)
        readings = {r.body.key: r for r in clocks.readings}
        for body in world.bodies:
            rows.append((readings[body].state, measure(world, dict(clocks.instants), body)))
    assert sum(e is not None and e <= 60 for _, e in rows) >= 0.85 * len(rows)
    assert all(e is None or e <= 120 for _, e in rows)


def test_nothing_is_guessed_where_nobody_can_tell() -> None:
    rows = read_worlds(phones=0)
    for world, body, reading, error in rows:
        receiver = any(p.gps_utc for p in world.photos if p.id in world.bodies[body])
        if not receiver:
            assert reading.state is State.UNKNOWN
            assert error is None
    wrong = [e for *_, e in rows if e is not None and e > 60]
    assert len(wrong) <= 0.05 * len(rows)
    assert any(r.state is State.UNKNOWN for *_, r, _ in rows)
    assert any(r.state is State.KNOWN for *_, r, _ in rows)
