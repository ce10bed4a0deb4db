"""All findings on the open book, each with its room and place; what is safe is mended at once."""

from __future__ import annotations

import threading
import weakref
from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from wayfold.app.build import judge_results
from wayfold.app.letters import judge_letters
from wayfold.app.mending import list_worse, mend
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import Results
from wayfold.base.findings import Finding, Rewording, Severity

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


@dataclass(frozen=True, slots=True)
class Mended:
    """What was mended, and how many findings remain but notes; ``worse`` came with the mending."""

    rewordings: tuple[Rewording, ...]
    remaining: int
    worse: tuple[PlacedFinding, ...]


class FindingsKeeper:
    """Judges the book once for each state it is in. Safe to use from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        # Not held: a book that was shut is let go of, with all that was worked out of it.
        self._judged: tuple[weakref.ref[Shown], tuple[PlacedFinding, ...]] | None = None

    def list_findings(self, session: Session) -> tuple[PlacedFinding, ...]:
        """Give all findings, those first that keep the book from being printed."""
        with self._lock:
            shown = session.shown
            if self._judged is None or self._judged[0]() is not shown:
                letters = judge_letters(shown, session.memory)
                found = judge_results(session.folder, shown.results, letters)
                placed = [place_finding(finding, shown.results) for finding in found]
                placed.sort(key=lambda one: _ORDER.index(one.finding.severity))
                self._judged = (weakref.ref(shown), tuple(placed))
            return self._judged[1]

    def mend(self, session: Session, wanted: Collection[Rewording]) -> Mended:
        """Mend what is ``wanted``, as one change; what is no longer safe is passed over.

        Raises UserError where the book cannot be changed now.
        """
        with session.hold():
            before = [one.finding for one in self.list_findings(session)]
            done = mend(session, before, wanted)
            after = self.list_findings(session)
        worse = list_worse(before, [one.finding for one in after])
        remaining = sum(one.finding.severity is not Severity.NOTE for one in after)
        return Mended(done, remaining, tuple(one for one in after if one.finding in worse))


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
