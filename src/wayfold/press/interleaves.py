"""Translucent sheets: folded ones two leaves up, single leaves ganged in pairs.

A sheet that is cut in two is laid like one that is folded: the first leaf on the right half of
the front, the second on the right half of the back, both with the spine at the middle.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from wayfold.base.geometry import Affine, Rect, Size
from wayfold.book.materials import Binding, Duplex, Paper, Printer, Translucent
from wayfold.plan.model import Gathering, InterleafEnd, Plan
from wayfold.plan.paper import sheet_of
from wayfold.press.bed import Bed, lie_sheet
from wayfold.press.leaf_ink import Faces, choose_mirrored, find_bare_sides
from wayfold.press.leaf_marks import Half, MarkedLeaves, draw_leaf_marks
from wayfold.press.model import InterleafSheet, SheetSide, SideName, Slot
from wayfold.press.sheets import lay_page, nest_gathering


def lay_interleaves(
    plan: Plan,
    trim: Size,
    paper: Paper,
    translucent: Translucent,
    printer: Printer,
    binding: Binding,
    inked: Faces | None = None,
) -> tuple[InterleafSheet, ...]:
    """Lay all leaves on translucent sheets: those folded in the plan's order, then single leaves.

    ``inked`` says which faces bear ink; without it, those that the plan wants something on. Their
    ink keeps within the trim, so the sheet needs no bleed. Raises UserError where it cannot take
    two leaves of ``trim``.
    """
    if not plan.interleaves:
        return ()
    material = Paper(
        translucent.name, translucent.sheet, translucent.grammage_gsm, translucent.caliper_um
    )
    bed = lie_sheet(trim, 0.0, material, printer)
    by_hand = printer.duplex is Duplex.MANUAL
    halves = tuple(_measure_halves(plan, paper, translucent, binding))
    folded = [
        tuple(h for h in halves if h.at[0] == i)
        for i, interleaf in enumerate(plan.interleaves)
        if interleaf.depth is not None
    ]
    single = [h for h in halves if h.interleaf.depth is None]
    pairs = [tuple(single[i : i + 2]) for i in range(0, len(single), 2)]
    return tuple(
        _lay_sheet(plan, number, _mirror(pair, translucent, inked or {}), bed, by_hand, inked or {})
        for number, pair in enumerate((*folded, *pairs), start=1)
    )


def _mirror(pair: Sequence[Half], translucent: Translucent, inked: Faces) -> tuple[Half, ...]:
    leaves = [(half.at, half.end) for half in pair]
    mirrored = choose_mirrored(leaves, translucent, inked)
    return tuple(replace(half, mirrored=m) for half, m in zip(pair, mirrored, strict=True))


def _measure_halves(
    plan: Plan, paper: Paper, translucent: Translucent, binding: Binding
) -> Iterator[Half]:
    for gathering in plan.gatherings:
        nest = nest_gathering(gathering, plan.interleaves, paper, translucent, binding)
        folded = iter(nest.interleaves)
        for index, interleaf in enumerate(plan.interleaves):
            if interleaf.gathering != gathering.number:
                continue
            creep = next(folded) if interleaf.depth is not None else None
            for number, end in enumerate(interleaf.ends):
                moved = nest.paper[_host(gathering, end)] if creep is None else creep
                yield Half((index, number), interleaf, end, moved)


def _host(gathering: Gathering, end: InterleafEnd) -> int:
    """The sheet (from 0) of the page that a single leaf is tipped to, the one it lies before."""
    page = min(max(end.after_page + 1, gathering.first_page), gathering.last_page)
    return sheet_of(page - gathering.first_page + 1, gathering.sheets) - 1


def _lay_sheet(
    plan: Plan,
    number: int,
    pair: Sequence[Half],
    bed: Bed,
    by_hand: bool,
    inked: Faces,
) -> InterleafSheet:
    first, second = pair[0], pair[1] if len(pair) > 1 else None
    bare = find_bare_sides([h.at for h in pair], [h.mirrored for h in pair], inked)
    front, back = (
        MarkedLeaves(plan, side, number, left, right, by_hand, bare=bare == {side})
        for side, left, right in (
            (SideName.FRONT, second, first),
            (SideName.BACK, first, second),
        )
    )
    # Faces in reading order: first leaf recto and verso, second leaf recto and verso.
    face = 4 * number - 3
    turn = bed.half_turn if bed.turns_heads else Affine()
    return InterleafSheet(
        number,
        tuple(half.at for half in pair),
        first.interleaf.depth is not None,
        bed.sheet,
        _lay_side(front, (face + 3, face + 2), (face, face + 1), bed, Affine()),
        _lay_side(back, (face + 1, face), (face + 2, face + 3), bed, turn),
        tuple(half.mirrored for half in pair),
    )


def _lay_side(
    side: MarkedLeaves,
    left_faces: tuple[int, int],
    right_faces: tuple[int, int],
    bed: Bed,
    turn: Affine,
) -> SheetSide:
    """Lay a side; of each leaf's two faces the second is the one that lies on its other side.

    A leaf that is read through bears here what belongs on its other side, mirrored.
    """
    width, height, fold = bed.page.width, bed.page.height, bed.fold_x
    slots = []
    start, end = fold, fold
    if side.left is not None:
        start = fold - width + side.left.creep
        area = Rect(start, bed.head_y, fold - start, height)
        slots.append(_lay_face(side.left, left_faces, start, area, -1, bed, turn))
    if side.right is not None:
        end = fold + width - side.right.creep
        area = Rect(fold, bed.head_y, end - fold, height)
        left = fold - side.right.creep
        slots.append(_lay_face(side.right, right_faces, left, area, 1, bed, turn))
    trim = Rect(start, bed.head_y, end - start, height)
    marks = draw_leaf_marks(side, bed, trim, turn)
    placed = turn.apply_rect(trim)
    return SheetSide(side.name, tuple(slots), marks, placed)


def _lay_face(
    half: Half,
    faces: tuple[int, int],
    left: float,
    area: Rect,
    fore_edge: int,
    bed: Bed,
    turn: Affine,
) -> Slot:
    if not half.mirrored:
        return lay_page(faces[0], left, area, fore_edge, bed, turn)
    laid = lay_page(faces[1], left, area, fore_edge, bed, turn)
    # Left and right change within the page's own width.
    mirror = Affine.scale(-1.0, 1.0).then(Affine.shift(bed.page.width, 0.0))
    return replace(laid, transform=mirror.then(laid.transform))
