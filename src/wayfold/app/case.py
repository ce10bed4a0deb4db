"""The case of a book looked at by itself: its measures, and what a binder would object to."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from wayfold.app.cover import derive_case
from wayfold.app.fonts import open_typesetter
from wayfold.app.measuring import keep_measures
from wayfold.app.planning import keep_or_plan
from wayfold.app.stages import read_looks
from wayfold.app.telling import derive_story
from wayfold.base.counts import count_of
from wayfold.base.geometry import Size
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.book.materials import Source
from wayfold.case.thread import thread_diameter, thread_length
from wayfold.case.work import CaseWork
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book, remember_photos

CASE_SCHEMA = "wayfold.case/1"


def view_case(root: Path, progress: Progress) -> CaseWork:
    """Reckon the case of the book in ``root``, planning its pages first where that is needed.

    Raises UserError where the person has to mend something first.
    """
    folder = BookFolder(root.resolve())
    stored = load_book(folder)
    catalogue = read_looks(folder, stored, progress)
    remember_photos(folder, stored.known, catalogue.photos)
    measurer = keep_measures(folder, open_typesetter(folder))
    story = derive_story(folder, stored.book, catalogue, measurer).story
    plan = keep_or_plan(folder, story, stored.book).plan
    return derive_case(stored.book, plan, catalogue.photos)


def describe_case(work: CaseWork) -> dict[str, Any]:
    """Give a case as plain values: lengths in mm, sizes as width and height."""
    case, block = work.case, work.block
    low, high = block.range
    return {
        "schema": CASE_SCHEMA,
        "style": case.casing.style.value,
        "block": {
            "layers": [
                {
                    "name": layer.name,
                    "leaves": layer.leaves,
                    "caliper_um": layer.caliper_um,
                    "source": layer.source.value,
                    "thickness": _round(layer.thickness),
                }
                for layer in block.layers
            ],
            "swell": _round(block.swell),
            "compensation": _round(block.strips),
            "estimate": _round(block.estimate),
            "lowest": _round(low),
            "highest": _round(high),
            "measured": block.measured,
            "spine": _round(block.spine),
        },
        "board": {**_size(case.board), "thickness": case.casing.board},
        "back": {
            "shape": case.casing.back.value,
            "over": _round(case.back_width),
            "rise": _round(case.back_rise),
        },
        "spine_piece": {**_size(case.spine), "of": case.casing.spine.value},
        "joint": case.joint,
        "square": {
            "head_and_tail": case.casing.square,
            "fore_edge_least": _round(case.square_fore[0]),
            "fore_edge_most": _round(case.square_fore[1]),
        },
        "turn_in": case.casing.turn_in,
        "mitre_from_corner": case.mitre,
        "open": _size(case.open),
        "parts": [
            {
                "name": part.name,
                "material": part.material.value,
                "count": part.count,
                **_size(part.size),
                "grain": "any" if part.any_way else "height",
            }
            for part in work.parts
        ],
        "pocket": None
        if work.pocket is None
        else {"blank": _size(work.pocket.blank), "gusset": _round(work.pocket.gusset)},
        "sewing": {
            "method": work.stations.method.value,
            "holes": [_round(hole) for hole in work.stations.holes],
            "thread_diameter": _round(thread_diameter(work.book.bench.sewing)),
            "thread_length": round(thread_length(block.page.height, block.gatherings)),
        },
        "printed": [
            {
                "sheet": _size(sheet.size),
                "pieces": [{"name": p.piece.name, **_size(p.box.size)} for p in sheet.placed],
            }
            for sheet in work.printed.sheets
        ],
        "cutting": [
            {
                "material": plan.material.value,
                "stock": plan.stock.title,
                "sheets": len(plan.sheets),
                "cuts": sum(len(sheet.cuts) for sheet in plan.sheets),
                "waste": round(plan.waste, 4),
            }
            for plan in work.cutting
        ],
        "findings": [finding.to_json() for finding in work.findings],
    }


def tell_case(work: CaseWork) -> Iterator[str]:
    """Give a case as lines for the terminal."""
    case, block, casing = work.case, work.block, work.case.casing
    low, high = block.range
    if block.measured is not None:
        yield f"Block: {block.measured:.1f} mm at the spine, as measured."
        yield f"  (Its leaves and threads come to {block.estimate:.1f} mm.)"
    else:
        yield (
            f"Block: about {block.estimate:.1f} mm at the spine ({low:.1f} to {high:.1f}). Measure "
            "it, sewn and pressed, and write block_mm under [case] before cutting."
        )
    for layer in block.layers:
        yield (
            f"  {layer.leaves} leaves of {layer.name}, {layer.caliper_um:g} µm "
            f"({layer.source.value}): {layer.thickness:.2f} mm"
        )
    yield f"  {block.gatherings} threads in the spine: {block.swell:.2f} mm"
    if block.strips:
        yield f"  strips to make up for the pocket: {block.strips:.2f} mm"
    yield f"Case: {casing.style.value}; laid open {_mm(case.open)}."
    yield (
        f"  squares: {casing.square:g} mm at head and tail, {case.square_fore[0]:.1f} to "
        f"{case.square_fore[1]:.1f} mm at the fore-edge; joint {case.joint:g} mm; turn-ins "
        f"{casing.turn_in:g} mm, mitred {case.mitre:g} mm from the corner"
    )
    yield "Pieces (the grain runs along the second measure):"
    for part in work.parts:
        yield f"  {part.count} × {part.name}: {_mm(part.size)}, {part.material.value}"
    yield f"Cut from (your own sheets: {Mend.STOCK}):"
    for plan in work.cutting:
        cuts = sum(len(sheet.cuts) for sheet in plan.sheets)
        known = "a usual size" if plan.stock.source is Source.ESTIMATED else plan.stock.source.value
        length = f"{sum(sheet.size.height for sheet in plan.sheets):.0f} mm"
        taken = length if plan.stock.roll else count_of(len(plan.sheets), "sheet")
        yield (
            f"  {taken} of {plan.stock.title} ({known}): "
            f"{count_of(cuts, 'cut')}, {100 * plan.waste:.0f} % left over"
        )
    holes = ", ".join(f"{hole:g}" for hole in (round(h, 2) for h in work.stations.holes))
    yield f"Holes from the head ({work.stations.method.value}): {holes} mm"


def _mm(size: Size) -> str:
    return f"{size.width:.1f} × {size.height:.1f} mm"


def _round(value: float) -> float:
    return round(value, 3)


def _size(size: Size) -> dict[str, float]:
    return {"width": _round(size.width), "height": _round(size.height)}
