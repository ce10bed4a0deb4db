"""What the proof says: a line for every page, and the faults by name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from wayfold.base.findings import Finding, Severity
from wayfold.checks.refold.folding import Folding

SCHEMA = "wayfold.refold/1"


@dataclass(frozen=True, slots=True)
class PageReading:
    """What was read where page ``number`` should be.

    ``found_as``: the page of the book it is (None: blank, absent or no page of this book);
    ``rotation_deg`` clockwise and ``mirrored`` how it stands. ``dx`` (to the right) and ``dy``
    (down) in mm are the displacement of the page's middle, ``offset`` the largest of any measured
    part; ``scale_x`` and ``scale_y`` printed over right size. None where the page is too plain to
    measure or is not the right one. ``words`` says it all.
    """

    number: int
    found_as: int | None
    rotation_deg: int
    mirrored: bool
    dx: float | None
    dy: float | None
    offset: float | None
    scale_x: float | None
    scale_y: float | None
    ok: bool
    words: str

    def to_json(self) -> dict[str, Any]:
        """Give the line as plain values, lengths rounded to micrometres."""
        return {
            "page": self.number,
            "found_as": self.found_as,
            "rotation_deg": self.rotation_deg,
            "mirrored": self.mirrored,
            "dx_mm": _rounded(self.dx, 3),
            "dy_mm": _rounded(self.dy, 3),
            "offset_mm": _rounded(self.offset, 3),
            "scale_x": _rounded(self.scale_x, 5),
            "scale_y": _rounded(self.scale_y, 5),
            "ok": self.ok,
            "words": self.words,
        }


@dataclass(frozen=True, slots=True)
class LeafReading:
    """What was read on one face of a translucent leaf; ``offset`` (mm) as for pages."""

    after_page: int
    face: str
    offset: float | None
    ok: bool
    words: str

    def to_json(self) -> dict[str, Any]:
        """Give the line as plain values, lengths rounded to micrometres."""
        return {
            "after_page": self.after_page,
            "face": self.face,
            "offset_mm": _rounded(self.offset, 3),
            "ok": self.ok,
            "words": self.words,
        }


@dataclass(frozen=True, slots=True)
class RefoldReport:
    """The whole proof. ``tolerance`` (mm) is what a page may lie off its place."""

    folding: Folding
    tolerance: float
    pages: tuple[PageReading, ...]
    findings: tuple[Finding, ...]
    leaves: tuple[LeafReading, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether the sheets fold into the book: all pages right and nothing that blocks."""
        clean = not any(f.severity is Severity.BLOCK for f in self.findings)
        return clean and all(p.ok for p in self.pages) and all(v.ok for v in self.leaves)

    @property
    def largest_offset(self) -> float:
        """The largest measured displacement (mm) of anything; 0 where none could be measured."""
        offsets = [*(p.offset for p in self.pages), *(v.offset for v in self.leaves)]
        return max((offset for offset in offsets if offset is not None), default=0.0)

    @property
    def measured(self) -> int:
        """How many pages had enough on them to be measured."""
        return sum(p.offset is not None for p in self.pages)

    def to_json(self) -> dict[str, Any]:
        """Give the report as plain values."""
        return {
            "schema": SCHEMA,
            "ok": self.ok,
            "largest_offset_mm": round(self.largest_offset, 3),
            "tolerance_mm": self.tolerance,
            "measured_pages": self.measured,
            "folding": self.folding.to_json(),
            "pages": [p.to_json() for p in self.pages],
            "leaves": [v.to_json() for v in self.leaves],
            "findings": [
                {
                    "rule": f.rule,
                    "severity": f.severity.value,
                    "where": f.where,
                    "message": f.message,
                    "remedy": f.remedy,
                }
                for f in self.findings
            ],
        }


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits) + 0.0
