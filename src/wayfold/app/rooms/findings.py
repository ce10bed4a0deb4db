"""All findings on the open book, each with the room and the place that it leads to."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from typing import Literal

from wayfold.app.build import judge_results
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.base.findings import Finding, Severity

Room = Literal["journey", "pictures", "flatplan", "spread", "sheets", "case"]

ROOMS: dict[str, Room] = {
    **dict.fromkeys(("trip", "journey", "calendar", "tracks", "map", "map-streets"), "journey"),
    **dict.fromkeys(("photos", "faces", "missing-photograph"), "pictures"),
    **dict.fromkeys(("plan", "plan-rule", "plan-interleaf", "story"), "flatplan"),
    **dict.fromkeys(("printable-area", "grain", "registration", "refold"), "sheets"),
}
"""Where a finding leads that names no page: by its rule, up to the first point."""
_ORDER = (Severity.BLOCK, Severity.WARN, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class PlacedFinding:
    """A finding, and where one mends it; ``place`` is a place in the room, or empty."""

    finding: Finding
    room: Room
    place: str


class FindingsKeeper:
    """Judges the book once for each state it is in. Safe to use from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._judged: tuple[Shown, tuple[PlacedFinding, ...]] | None = None

    def list_findings(self, session: Session) -> tuple[PlacedFinding, ...]:
        """Give all findings, those first that keep the book from being printed."""
        with self._lock:
            shown = session.shown
            if self._judged is None or self._judged[0] is not shown:
                found = judge_results(session.folder, shown.results, ())
                placed = [place_finding(finding, shown.results) for finding in found]
                placed.sort(key=lambda one: _ORDER.index(one.finding.severity))
                self._judged = (shown, tuple(placed))
            return self._judged[1]


def place_finding(finding: Finding, results: Results) -> PlacedFinding:
    """Say where a finding leads: to its page, to its photograph, or to the room of its rule."""
    if finding.pages:
        number = min(max(finding.pages[0], 1), len(results.drawings))
        return PlacedFinding(finding, "spread", f"page-{number}")
    topic = finding.rule.partition(".")[0]
    if topic in ROOMS:
        return PlacedFinding(finding, ROOMS[topic], "")
    if finding.about in results.photos:
        return PlacedFinding(finding, "pictures", "")
    if finding in results.case.findings:
        return PlacedFinding(finding, "case", "")
    return PlacedFinding(finding, "flatplan", "")
