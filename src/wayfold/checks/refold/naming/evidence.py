"""All that was seen, in the forms that the naming of faults asks for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.paper import Side
from wayfold.checks.refold.stack import SheetSlots, Slot
from wayfold.checks.refold.views import Sight, View


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was seen on every sheet.

    ``stack``: planned sheet -> printed sheet lying there (from 0; None: missing);
    ``really``: printed sheet -> planned sheet it shows; ``sides``/``pages``: pages of the print
    file and of the reading file; ``sizes`` of the printed sides in mm.
    """

    folding: Folding
    tolerance: float
    sheets: tuple[SheetSlots, ...]
    stack: tuple[int | None, ...]
    views: Mapping[int, View]
    really: Mapping[int, int]
    sides: int
    pages: int
    sizes: tuple[Size, ...]

    def astray(self, sheet: int) -> bool:
        """Whether another sheet lies where planned sheet ``sheet`` (from 0) should."""
        printed = self.stack[sheet]
        return printed is not None and self.really.get(printed, sheet) != sheet


@dataclass(frozen=True, slots=True)
class Naming:
    """Findings of one kind, and the pages whose trouble they explain."""

    findings: tuple[Finding, ...] = ()
    explained: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class PrintedSide:
    """One side of a sheet that lies in its place."""

    sheet: SheetSlots
    side: Side

    @property
    def slots(self) -> tuple[Slot, Slot]:
        """Left and right."""
        return self.sheet.front if self.side is Side.FRONT else self.sheet.back

    @property
    def pages(self) -> tuple[int, int]:
        """The pages it should carry, left and right."""
        return self.slots[0].number, self.slots[1].number

    @property
    def label(self) -> str:
        """How findings name it, "the back of gathering 1, sheet 2"."""
        return f"the {self.side} of {self.sheet.place.label}"


def list_sides(evidence: Evidence) -> tuple[PrintedSide, ...]:
    """The sides of all sheets that are there and in their places."""
    return tuple(
        PrintedSide(sheet, side)
        for s, sheet in enumerate(evidence.sheets)
        if evidence.stack[s] is not None and not evidence.astray(s)
        for side in (Side.FRONT, Side.BACK)
    )


def is_wrong(view: View) -> bool:
    """Whether something other than the right page is seen."""
    return view.sight is not Sight.RIGHT


def block(rule: str, where: str, message: str, remedy: str) -> Finding:
    """A finding of the proof that stops the printing."""
    return Finding(f"refold.{rule}", Severity.BLOCK, where, message, remedy)


def name_pages(numbers: Iterable[int]) -> str:
    """Say "page 3" or "pages 3, 4 and 9"."""
    ordered = sorted(numbers)
    return ("page " if len(ordered) == 1 else "pages ") + join([str(n) for n in ordered])


def join(parts: Sequence[str]) -> str:
    """Say "a", "a and b", "a, b and c"; many are cut short with their number."""
    if len(parts) > 9:
        return f"{', '.join(parts[:6])} and {len(parts) - 6} more"
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def capital(text: str) -> str:
    """The text with a capital at its head."""
    return text[:1].upper() + text[1:]
