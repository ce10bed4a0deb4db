"""The cameras' clocks looked at by themselves, with the evidence, before anything is made."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from wayfold.app.journey import read_evidence
from wayfold.app.scenes import read_clocks_with_scenes
from wayfold.app.stages import read_catalogue
from wayfold.app.towns import KeptTowns
from wayfold.base.progress import Progress
from wayfold.project.cache import DiskCache
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos
from wayfold.trip.clocks.model import ClockReading, Span
from wayfold.trip.clocks.words import tell_reading

SCHEMA = "wayfold.clocks/1"


def read_book_clocks(root: Path, progress: Progress) -> tuple[ClockReading, ...]:
    """Give what is known of the clock of every camera in the book in ``root``.

    Raises UserError for what the person has to mend first.
    """
    folder = BookFolder(root.resolve())
    stored = load_book(folder)
    catalogue = read_catalogue(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    towns = KeptTowns(DiskCache(folder.cache, "towns"))
    _, evidence = read_evidence(folder, stored.book, catalogue.photos, towns)
    towns.keep()
    return read_clocks_with_scenes(folder, catalogue.photos, evidence).readings


def tell_clocks(readings: Sequence[ClockReading]) -> tuple[str, ...]:
    """Give the readings in lines, each with its evidence."""
    return tuple(line for reading in readings for line in tell_reading(reading))


def describe_clocks(readings: Sequence[ClockReading]) -> dict[str, Any]:
    """Give the readings as plain values: ``ahead_s`` is what a clock showed less UTC, in s."""
    return {
        "schema": SCHEMA,
        "clocks": [
            {
                "camera": reading.body.key,
                "photographs": len(reading.body.photos),
                "state": reading.state.value,
                "confidence": round(reading.confidence, 3),
                "words": reading.words,
                "spans": [_describe_span(span) for span in reading.spans],
                "evidence": [
                    {
                        "kind": row.kind.value,
                        "pieces": row.pieces,
                        "agreeing": row.agreeing,
                        "ahead_s": row.ahead_s,
                        "spread_s": row.spread_s,
                        "words": row.words,
                    }
                    for row in reading.evidence
                ],
            }
            for reading in readings
        ],
    }


def _describe_span(span: Span) -> dict[str, Any]:
    known = span.error_s != float("inf")  # JSON has no infinity
    return {
        "since": span.since.isoformat() if span.since else None,
        "ahead_s": round(span.ahead_s, 1) if known else None,
        "zone_minutes": span.zone_minutes,
        "slip_s": round(span.slip_s, 1) if known else None,
        "error_s": round(span.error_s, 1) if known else None,
        "drift_s_day": round(span.drift_s_day, 2),
    }
