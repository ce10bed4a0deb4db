"""All ways to lay a block's pictures on its pages, by the families at hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from wayfold.book.families import Arrange, Family, list_families
from wayfold.layout.across import lay_across, lay_reaching
from wayfold.layout.alone import lay_alone
from wayfold.layout.bled import lay_bled
from wayfold.layout.groups import (
    lay_one_and_rest,
    lay_sliced,
    lay_stack,
    lay_strip,
)
from wayfold.layout.matter import Laid, Matter
from wayfold.layout.places import lay_places

MOST_VARIANTS = 3
"""A family gives at most so many ways."""
LATER_VARIANT = 0.04
"""What each further variant of a family is worth less than the one before."""
SCORE_SHARE = 0.5
USUAL_SCORE = 0.8
"""How far an arrangement's own score, above or below the usual, changes what its way is worth."""

ARRANGERS: Mapping[Arrange, Callable[[Matter, Family], Iterator[Laid]]] = {
    Arrange.ALONE: lay_alone,
    Arrange.BLED: lay_bled,
    Arrange.ACROSS: lay_across,
    Arrange.REACHING: lay_reaching,
    Arrange.SLICED: lay_sliced,
    Arrange.STRIP: lay_strip,
    Arrange.STACK: lay_stack,
    Arrange.ONE_AND_REST: lay_one_and_rest,
    Arrange.PLACES: lay_places,
}


@dataclass(frozen=True, slots=True)
class Way:
    """One way to lay a block: its name (the family's, numbered from the second on) and worth."""

    name: str
    family: Family
    worth: float
    laid: Laid


def list_ways(matter: Matter) -> tuple[Way, ...]:
    """Give every way to lay a block of pictures, the worthiest first; there is always one."""
    ways = [
        Way(
            family.name if i == 0 else f"{family.name} {i + 1}",
            family,
            family.worth
            - i * LATER_VARIANT
            + (SCORE_SHARE * (laid.score - USUAL_SCORE) if laid.score is not None else 0.0),
            laid,
        )
        for family in list_families(matter.book.arranging.families)
        if _takes(matter, family)
        for i, laid in enumerate(islice(ARRANGERS[family.arrange](matter, family), MOST_VARIANTS))
    ]
    return tuple(sorted(ways, key=lambda way: -way.worth))


def _takes(matter: Matter, family: Family) -> bool:
    photos, pages = matter.block.photos, len(matter.numbers)
    # One picture may leave its facing page white; many would look as if some had been left out.
    fits = pages == family.pages or (pages > 1 and (len(photos) == 1 or family.pages > 1))
    shapes = [matter.aspect(photo) for photo in photos]
    return (
        fits
        and family.least <= len(photos) <= family.most
        and min(shapes) >= family.narrowest
        and max(shapes) <= family.widest
        and (matter.block.scene or not family.scene)
    )
