"""The proof of the interleaves: where each leaf falls, and which ink it bears there."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from wayfold.base.geometry import Size
from wayfold.base.progress import Progress
from wayfold.checks.refold.examine import Desk
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.naming.leaves import (
    LeafEvidence,
    LeafViews,
    PlannedLeaf,
    is_inked,
    judge_leaves,
)
from wayfold.checks.refold.paper import (
    Face,
    Leaf,
    Place,
    fold_sheet,
    read_book,
    read_leaves,
    read_through,
)
from wayfold.checks.refold.pile import check_files, count_pages, open_workers, read_pile
from wayfold.checks.refold.report import RefoldReport
from wayfold.checks.refold.stack import align_stack, list_slots, recognise_sheets
from wayfold.checks.refold.veiled import judge_reading, order_reading
from wayfold.checks.refold.views import Sight, View


@dataclass(frozen=True, slots=True)
class LeafFiles:
    """The print file of the interleaves, and their leaves one by one, recto before verso.

    ``sheets`` has the folded sheets in the order of ``Folding.interleaves``, then single leaves
    two to a sheet, laid as if the sheet were folded; ``leaves`` follows that order.
    """

    sheets: Path
    leaves: Path


def add_leaves(report: RefoldReport, files: LeafFiles | None, progress: Progress) -> RefoldReport:
    """Give the report with the proof of the interleaves added.

    Raises UserError where a file cannot be read or is of another page size.
    """
    folding = report.folding
    pairs = pair_leaves(folding)
    fallen = find_gaps(folding)
    seen = None if files is None else _read_leaves(folding, pairs, files, progress)
    evidence = LeafEvidence(folding, report.tolerance, pairs, fallen, seen)
    findings, lines = judge_leaves(evidence)
    return replace(report, findings=(*report.findings, *findings), leaves=lines)


def add_reading(report: RefoldReport, files: LeafFiles, reading: Path) -> RefoldReport:
    """Give the report with what the reading file shows of the leaves judged as well."""
    folding = report.folding
    filed = tuple(leaf for pair in pair_leaves(folding) for leaf in pair)
    # As they are met: folded ones as they lie nested, then what is tipped in beside them.
    folded = tuple(find_gaps(folding))
    single = tuple(leaf for leaf in filed if leaf not in folded)
    order = order_reading(folding, (*folded, *single))
    findings = judge_reading(folding, reading, files.leaves, filed, order)
    return replace(report, findings=(*report.findings, *findings))


def pair_leaves(folding: Folding) -> tuple[tuple[PlannedLeaf, ...], ...]:
    """Give the leaves of every translucent sheet in the order of the print file."""
    folded = [
        tuple(PlannedLeaf(i, leaf) for leaf in (0, 1))
        for i, interleaf in enumerate(folding.interleaves)
        if interleaf.depth is not None
    ]
    single = [PlannedLeaf(i, 0) for i, v in enumerate(folding.interleaves) if v.depth is None]
    return (*folded, *(tuple(single[i : i + 2]) for i in range(0, len(single), 2)))


def find_gaps(folding: Folding) -> dict[PlannedLeaf, int]:
    """Nest all sheets and leaf through the book: after which page each folded leaf lies."""
    page = 0
    met: dict[int, int] = {}
    gaps = {}
    for leaf in read_leaves(folding, folding.sheet, folding.sheet):
        if leaf.interleaf is None:
            page += 2
            continue
        count = met.get(leaf.interleaf, 0)
        met[leaf.interleaf] = count + 1
        gaps[PlannedLeaf(leaf.interleaf, count)] = page
    return gaps


def _read_leaves(
    folding: Folding,
    pairs: Sequence[tuple[PlannedLeaf, ...]],
    files: LeafFiles,
    progress: Progress,
) -> LeafViews:
    with count_pages(files.sheets) as printed, count_pages(files.leaves) as book:
        sizes, sides, pages = printed.sizes(), printed.count, book.count
        check_files(folding, files.sheets, sides, files.leaves, book)
    slots = list_slots(tuple(_list_faces(folding, pairs, sizes[0])))
    in_file = (sides + 1) // 2
    stack = tuple(s if s < in_file else None for s in range(len(slots)))
    with tempfile.TemporaryDirectory(prefix="refold-") as scratch, open_workers(1) as run:
        desk = Desk(files.sheets, files.leaves, folding.trim, 0.0, sizes[0], Path(scratch))
        views = read_pile(desk, slots, stack, sides, pages, progress, run)
        really = recognise_sheets(slots, stack, {n: _ink_alone(v) for n, v in views.items()})
        mended = align_stack(really, in_file, len(slots))
        if mended != stack:
            views = read_pile(desk, slots, mended, sides, pages, progress, run)
    return LeafViews(views, sides, pages)


def _ink_alone(view: View) -> View:
    """The view as a sheet is recognised by it: bare faces are alike on all of them."""
    return view if is_inked(view) else replace(view, sight=Sight.BLANK)


def _list_faces(
    folding: Folding, pairs: Sequence[tuple[PlannedLeaf, ...]], sheet: Size
) -> Iterator[Face]:
    """The faces of every translucent sheet: first leaf recto and verso, second recto and verso."""
    nested: dict[int, list[Leaf]] = {}
    for leaf in read_leaves(folding, folding.sheet, sheet):
        if leaf.interleaf is not None:
            nested.setdefault(leaf.interleaf, []).append(leaf)
    papers = read_book(folding, folding.sheet)
    for number, pair in enumerate(pairs, start=1):
        if folding.interleaves[pair[0].interleaf].depth is not None:
            leaves = nested[pair[0].interleaf]
        else:
            # Each single leaf goes with the page that it is tipped to, the one it lies before.
            creeps = [papers[_host(folding, leaf, len(papers))].creep for leaf in pair]
            place = Place(number, 0, 0)
            leaves = [
                fold_sheet(place, folding, sheet, creep)[half]
                for half, creep in enumerate((*creeps, 0.0)[:2])
            ]
        for half, leaf in enumerate(leaves):
            through = half < len(pair) and folding.interleaves[pair[half].interleaf].is_mirrored(
                pair[half].leaf
            )
            read = read_through(leaf, folding) if through else leaf
            for face in (read.recto, read.verso):
                yield replace(face, place=Place(number, 0, 0))


def _host(folding: Folding, leaf: PlannedLeaf, pages: int) -> int:
    return min(folding.interleaves[leaf.interleaf].after[leaf.leaf], pages - 1)
