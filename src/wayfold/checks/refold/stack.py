"""The pile of printed sheets in the maker's hands: which side of the file goes where."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from wayfold.checks.refold.examine import Reading
from wayfold.checks.refold.paper import Face, Place, Side
from wayfold.checks.refold.views import Sight, View


@dataclass(frozen=True, slots=True)
class Slot:
    """A place for a page on a printed sheet, and the number it is read as."""

    face: Face
    number: int


@dataclass(frozen=True, slots=True)
class SheetSlots:
    """The four slots of one planned sheet, left before right on each side."""

    place: Place
    front: tuple[Slot, Slot]
    back: tuple[Slot, Slot]

    @property
    def numbers(self) -> tuple[int, ...]:
        """The pages it should carry: front left, front right, back left, back right."""
        return tuple(s.number for s in (*self.front, *self.back))


def list_slots(faces: Sequence[Face]) -> tuple[SheetSlots, ...]:
    """Sort the faces of a book as it reads by the sheets they are printed on."""
    by_sheet: dict[Place, dict[tuple[Side, bool], Slot]] = {}
    for number, face in enumerate(faces, start=1):
        by_sheet.setdefault(face.place, {})[face.side, face.left] = Slot(face, number)
    return tuple(
        SheetSlots(
            place,
            (slots[Side.FRONT, True], slots[Side.FRONT, False]),
            (slots[Side.BACK, True], slots[Side.BACK, False]),
        )
        for place, slots in sorted(by_sheet.items(), key=lambda item: item[0].number)
    )


def plan_readings(sheet: SheetSlots, printed: int | None, sides: int) -> tuple[Reading, ...]:
    """What to read on one planned sheet when sheet ``printed`` (from 0) of the file lies there."""
    readings = []
    for offset, pair in enumerate((sheet.front, sheet.back)):
        index = None if printed is None else 2 * printed + offset
        side = index if index is not None and index < sides else None
        readings += [Reading(slot.number, slot.face, side) for slot in pair]
    return tuple(readings)


def recognise_sheets(
    sheets: Sequence[SheetSlots], stack: Sequence[int | None], views: Mapping[int, View]
) -> dict[int, int]:
    """Which planned sheet (from 0) each printed sheet really is, judged by the pages it shows.

    A printed sheet whose pages say nothing clear is left out.
    """
    home = {number: s for s, sheet in enumerate(sheets) for number in sheet.numbers}
    really = {}
    for s, printed in enumerate(stack):
        if printed is None:
            continue
        votes: dict[int, int] = {}
        inked = 0
        for number in sheets[s].numbers:
            view = views[number]
            if view.sight not in (Sight.RIGHT, Sight.OTHER):
                continue
            inked += 1
            for candidate in {home[m.page] for m in view.matches if m.page in home}:
                votes[candidate] = votes.get(candidate, 0) + 1
        if not votes:
            continue
        best = max(votes, key=lambda v: (votes[v], v == s))
        if 2 * votes[best] > inked:
            really[printed] = best
    return really


def align_stack(really: Mapping[int, int], printed: int, planned: int) -> tuple[int | None, ...]:
    """Lay ``printed`` sheets on their planned places, leaving gaps where sheets are missing.

    Sheets that could not be recognised follow their neighbour. Gives the sheets as they come
    where they would not go up in order.
    """
    as_they_come = tuple(p if p < printed else None for p in range(planned))
    if printed >= planned:
        return as_they_come
    stack: list[int | None] = [None] * planned
    at = -1
    for p in range(printed):
        at = really.get(p, at + 1)
        if at >= planned or stack[at] is not None or (p and at < _last(stack)):
            return as_they_come
        stack[at] = p
    return tuple(stack)


def _last(stack: Sequence[int | None]) -> int:
    return max((i for i, p in enumerate(stack) if p is not None), default=-1)
