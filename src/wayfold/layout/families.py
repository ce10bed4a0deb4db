"""The layout families: what each takes, how well it suits, and the function that lays it out.

A new family is one more entry of ``FAMILIES``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wayfold.layout.groups import lay_group, lay_group_facing
from wayfold.layout.maps import lay_map
from wayfold.layout.matter import Laid, Matter
from wayfold.layout.openings import (
    lay_chapter_text,
    lay_colophon,
    lay_contents,
    lay_half_title,
    lay_matter_text,
    lay_opener,
    lay_title,
)
from wayfold.layout.singles import (
    bleeds_well,
    crosses_well,
    lay_across,
    lay_bled,
    lay_framed,
    lay_framed_small,
    lay_under_leaf,
)
from wayfold.layout.tables import lay_itinerary
from wayfold.story.model import BlockKind


@dataclass(frozen=True, slots=True)
class Family:
    """One way to lay out a block.

    ``suits`` gives how well it fits a block on its pages: 0 = not at all, 1 = best.
    """

    name: str
    takes: frozenset[BlockKind]
    suits: Callable[[Matter], float]
    lay: Callable[[Matter], Laid]


_PICTURES = frozenset({BlockKind.HERO, BlockKind.SINGLE, BlockKind.GROUP})


def _always(_: Matter) -> float:
    return 1.0


def _if_one(
    worth: float, also: Callable[[Matter], bool] | None = None
) -> Callable[[Matter], float]:
    def judge(matter: Matter) -> float:
        one = len(matter.block.photos) == 1
        return worth if one and (also is None or also(matter)) else 0.0

    return judge


def _if_veiled(matter: Matter) -> float:
    return 1.0 if matter.veiled and matter.block.photos else 0.0


def _if_bare(matter: Matter) -> float:
    return 1.0 - _if_veiled(matter)


def _on_one_page(matter: Matter) -> float:
    # A white page facing the pictures that were given it would look like an omission.
    return 0.9 if len(matter.numbers) == 1 else 0.0


def _on_more_pages(matter: Matter) -> float:
    return 0.9 if len(matter.numbers) > 1 and len(matter.block.photos) > 1 else 0.0


def _takes(*kinds: BlockKind) -> frozenset[BlockKind]:
    return frozenset(kinds)


FAMILIES: tuple[Family, ...] = (
    Family("half-title", _takes(BlockKind.HALF_TITLE), _always, lay_half_title),
    Family("title", _takes(BlockKind.TITLE), _always, lay_title),
    Family("contents", _takes(BlockKind.CONTENTS), _always, lay_contents),
    Family("map", _takes(BlockKind.OVERVIEW, BlockKind.MAP), _always, lay_map),
    Family("itinerary", _takes(BlockKind.ITINERARY), _always, lay_itinerary),
    Family("matter-text", _takes(BlockKind.FOREWORD, BlockKind.CLOSING), _always, lay_matter_text),
    Family("opener", _takes(BlockKind.OPENER), _if_bare, lay_opener),
    Family("under-leaf", _takes(BlockKind.OPENER), _if_veiled, lay_under_leaf),
    Family("text", _takes(BlockKind.TEXT), _always, lay_chapter_text),
    Family("across", _PICTURES, _if_one(1.0, crosses_well), lay_across),
    Family("bled", _PICTURES, _if_one(0.98, bleeds_well), lay_bled),
    Family("framed", _PICTURES, _if_one(0.97), lay_framed),
    Family("framed-small", _PICTURES, _if_one(0.8), lay_framed_small),
    Family("group", _PICTURES, _on_one_page, lay_group),
    Family("group-facing", _PICTURES, _on_more_pages, lay_group_facing),
    Family("colophon", _takes(BlockKind.COLOPHON), _always, lay_colophon),
)
