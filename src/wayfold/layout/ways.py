"""All ways to lay a block's pictures on its pages, by the families at hand."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice

from wayfold.base.geometry import TOLERANCE
from wayfold.base.memory import Memory
from wayfold.book.families import Arrange, Family, list_families
from wayfold.layout.across import lay_across, lay_reaching
from wayfold.layout.alone import lay_alone
from wayfold.layout.bled import lay_band, lay_bled
from wayfold.layout.composed import LONE_SCORE
from wayfold.layout.groups import (
    lay_one_and_rest,
    lay_sliced,
    lay_stack,
    lay_strip,
)
from wayfold.layout.matter import Laid, Matter
from wayfold.layout.model import PictureFrame
from wayfold.layout.places import lay_places
from wayfold.layout.scattered import lay_scattered

MOST_VARIANTS = 3
"""A family gives at most so many ways."""
SLOW = frozenset({Arrange.SCATTERED})
"""These take a tenth of a second."""
REPEATED = 0.25
"""What a family loses that the spread before showed too."""
OVER_LARGE = 0.4
"""What a way loses that shows a picture larger than it bears."""
LATER_VARIANT = 0.04
"""What each further variant of a family is worth less than the one before."""
SCORE_SHARE = 0.5
"""How far an arrangement's own score, above or below the usual, changes what its way is worth."""
USUAL_SCORES: Mapping[Arrange, float] = {
    Arrange.SLICED: LONE_SCORE,
    Arrange.ONE_AND_REST: LONE_SCORE,
    Arrange.SCATTERED: 0.93,
    Arrange.STRIP: 0.88,
    Arrange.STACK: 1.0,
}
"""The median of each arranger's best score over 25 random sets of pictures in an A4 page's area:
they judge by measures of their own, so only what is above or below the usual can be compared."""

ARRANGERS: Mapping[Arrange, Callable[[Matter, Family], Iterator[Laid]]] = {
    Arrange.ALONE: lay_alone,
    Arrange.BLED: lay_bled,
    Arrange.BAND: lay_band,
    Arrange.ACROSS: lay_across,
    Arrange.REACHING: lay_reaching,
    Arrange.SLICED: lay_sliced,
    Arrange.SCATTERED: lay_scattered,
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


class Tried:
    """What families made of blocks, so that none works out the same twice."""

    def __init__(self, memory: Memory | None = None) -> None:
        self._memory = memory or Memory()

    def lay(self, matter: Matter, family: Family) -> tuple[Laid, ...]:
        """Give what a family makes of a block, its best first."""
        return self._memory.recall(_lay, matter, family, at=(matter.block.id, family.name))


def _lay(matter: Matter, family: Family) -> tuple[Laid, ...]:
    return tuple(islice(ARRANGERS[family.arrange](matter, family), MOST_VARIANTS))


def list_ways(
    matter: Matter,
    seen: frozenset[str] = frozenset(),
    within: float = math.inf,
    tried: Tried | None = None,
) -> tuple[Way, ...]:
    """Give the ways to lay a block of pictures, the worthiest first; there is always one.

    Families that were ``seen`` just before lose ``REPEATED``. Of those that take long to work
    out, what cannot come to within ``within`` of the worthiest is left out. What was ``tried``
    before is not worked out again.
    """
    tried = tried or Tried()
    ways: list[Way] = []
    best = -math.inf
    for family, worth in _order_families(matter, seen):
        usual = USUAL_SCORES.get(family.arrange, 1.0)
        bound = worth + SCORE_SHARE * (1.0 - usual)
        if family.arrange in SLOW and bound < best - within:
            continue
        for i, laid in enumerate(tried.lay(matter, family)):
            name = family.name if i == 0 else f"{family.name} {i + 1}"
            score = 0.0 if laid.score is None else SCORE_SHARE * (laid.score - usual)
            over = OVER_LARGE if _goes_over(matter, laid) else 0.0
            ways.append(Way(name, family, worth - i * LATER_VARIANT + score - over, laid))
            best = max(best, ways[-1].worth)
    return tuple(sorted(ways, key=lambda way: -way.worth))


def _order_families(matter: Matter, seen: frozenset[str]) -> list[tuple[Family, float]]:
    """Give the families that take the block with what they are worth here, the quick ones first."""
    worths = [
        (family, family.worth - (REPEATED if _tires(matter, family, seen) else 0.0))
        for family in list_families(matter.book.style.families, matter.book.arranging.families)
        if _takes(matter, family)
    ]
    return sorted(worths, key=lambda one: one[0].arrange in SLOW)


def _tires(matter: Matter, family: Family, seen: frozenset[str]) -> bool:
    # What the person singled out lies as suits it best, whatever came before.
    return family.name in seen and not matter.singled_out


def _goes_over(matter: Matter, laid: Laid) -> bool:
    """Whether a picture is shown larger than its pixels, sharpness and grain bear."""
    frames = (f for page in laid.pages for f in page.frames if isinstance(f, PictureFrame))
    return any(f.box.width > matter.largest(f.photo, f.crop) + TOLERANCE for f in frames)


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
        and not (family.size < 1.0 and matter.singled_out)
    )
