"""The pieces to be cut for a case, each with its grain: along the spine, all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.geometry import Size
from wayfold.book.casing import CaseStyle, Material, SpinePiece
from wayfold.case.measure import CaseMeasures
from wayfold.case.pocket import PocketBlank


@dataclass(frozen=True, slots=True)
class Part:
    """Pieces of one size; their grain runs along their height, or any way where ``any_way``."""

    name: str
    material: Material
    size: Size
    count: int = 1
    any_way: bool = False


def list_parts(case: CaseMeasures, pocket: PocketBlank | None = None) -> tuple[Part, ...]:
    """Give all pieces of a case and of its pocket, in the order in which they are needed."""
    return tuple(_list_parts(case, pocket))


def _list_parts(case: CaseMeasures, pocket: PocketBlank | None) -> Iterator[Part]:
    casing = case.casing
    yield Part("endpaper, a folded pair", Material.ENDPAPER, case.endpaper, 2)
    yield Part("mull", Material.MULL, case.mull)
    yield Part("spine lining", Material.LINING, case.lining)
    yield Part("hollow", Material.LINING, case.hollow)
    yield Part("headband strip", Material.BAND_CLOTH, case.headband, 2)
    yield Part("board", Material.BOARD, case.board, 2)
    stiff = casing.spine is SpinePiece.BOARD
    yield Part("spine piece", Material.BOARD if stiff else Material.CARD, case.spine)
    printed = casing.style in (CaseStyle.PRINTED_CLOTH, CaseStyle.THREE_PIECE)
    cloth = Material.PRINT_CLOTH if printed else Material.CLOTH
    yield Part("cloth" if case.side is None else "spine cloth", cloth, case.wrap)
    if case.side is not None:
        paper = casing.style is CaseStyle.QUARTER_CLOTH
        yield Part(
            "side paper" if paper else "side cloth",
            Material.COVER_PAPER if paper else Material.PRINT_CLOTH,
            case.side,
            2,
        )
    yield Part("infill", Material.LINING, case.infill, 2)
    if pocket is not None:
        yield Part("pocket", Material.POCKET_PAPER, pocket.blank)
