"""Which way each block of pictures is laid: facing pages are judged together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product

from wayfold.base.geometry import Size
from wayfold.book.families import Arrange
from wayfold.layout.by_hand import find_hand, obeys_hand
from wayfold.layout.by_hand_texts import leave_out_placed
from wayfold.layout.grid import Grid
from wayfold.layout.judge import shown_box
from wayfold.layout.matter import Matter, on_recto
from wayfold.layout.model import PageLayout, PictureFrame
from wayfold.layout.spread_score import WHITE_OF_GROUPS, WHITE_OF_SCATTERED, Shown, score_spread
from wayfold.layout.ways import Tried, Way, list_ways
from wayfold.photos.model import Photo

WITHIN = 0.02
"""Slow families that cannot come so near to the best are not worked out, unless asked for."""
TWO_BLED = 0.6
"""What a bled picture loses where the facing page is bled too."""
FINALISTS = 12
"""So many ways are judged as spreads, the best by what each is worth alone."""
SPREAD_SHARE, USUAL_SPREAD = 0.3, 0.6
"""How far what two pages are together, above or below the usual, changes what they are worth."""
FULL = frozenset({Arrange.BLED, Arrange.BAND, Arrange.ACROSS, Arrange.REACHING})
"""These fill a page or lie over the fold: no lines are compared with theirs."""


def list_around(opening: Sequence[Matter]) -> tuple[int, ...]:
    """Give the pages that the choice looks at: the spread before, and the two facing pages."""
    start = _find_start(opening)
    return tuple(range(start - 2, start + 2))


def choose_ways(
    opening: Sequence[Matter],
    around: Sequence[PageLayout],
    photos: Mapping[str, Photo],
    tried: Tried,
) -> tuple[Way, ...]:
    """Give each block that begins on two facing pages the way that makes the best spread.

    ``around`` has those of the pages that ``list_around`` names that are laid already, ``photos``
    what they show.
    """
    return rank_ways(opening, {page.number: page for page in around}, photos, tried)[0]


def rank_ways(
    opening: Sequence[Matter],
    pages: Mapping[int, PageLayout],
    photos: Mapping[str, Photo],
    tried: Tried,
    *,
    free: bool = False,
) -> list[tuple[Way, ...]]:
    """Give all ways to lay the blocks that begin on two facing pages, the best first.

    ``pages`` has those laid already, ``photos`` what they show.
    Where the person placed a block's pictures, or chose a way for it, that is the only one of it,
    unless ``free``.
    """
    start = _find_start(opening)
    before = frozenset(pages[n].family for n in (start - 2, start - 1) if n in pages)
    listed = [
        list_ways(matter, before, tried=tried) if free else _list_wanted(matter, before, tried)
        for matter in opening
    ]
    roughly = sorted(product(*listed), key=lambda ways: -_judge_roughly(opening, ways, pages))
    shown = {
        **photos,
        **{name: photo for matter in opening for name, photo in matter.photos.items()},
    }
    finely = {
        ways: _judge_roughly(opening, ways, pages) + _judge_spread(opening, ways, pages, shown)
        for ways in roughly[:FINALISTS]
    }
    return [*sorted(finely, key=lambda ways: -finely[ways]), *roughly[FINALISTS:]]


def _find_start(opening: Sequence[Matter]) -> int:
    return opening[0].numbers[0] // 2 * 2


def _list_wanted(matter: Matter, before: frozenset[str], tried: Tried) -> tuple[Way, ...]:
    hand = find_hand(matter)
    if hand is not None:
        return (hand,)
    matter = leave_out_placed(matter) if obeys_hand(matter) else matter
    wanted = matter.book.arranging.ways.get(matter.block.id)
    if wanted is None:
        return list_ways(matter, before, WITHIN, tried)
    ways = list_ways(matter, before, tried=tried)
    return tuple(way for way in ways if way.name == wanted) or ways


def _judge_roughly(
    opening: Sequence[Matter], ways: Sequence[Way], pages: Mapping[int, PageLayout]
) -> float:
    """Score ways by what each is worth alone, and by what must not face what."""
    worth = sum(way.worth for way in ways) / len(ways)
    arranged = [page.arranged for page in _face(opening, ways, pages).values()]
    if len(arranged) == 2 and Arrange.BLED in arranged and set(arranged) <= FULL:
        worth -= TWO_BLED
    return worth


def _judge_spread(
    opening: Sequence[Matter],
    ways: Sequence[Way],
    pages: Mapping[int, PageLayout],
    photos: Mapping[str, Photo],
) -> float:
    """Score what two pages of pictures are together, above or below what is usual."""
    facing, grid = _face(opening, ways, pages), opening[0].grid
    sides = [list(_show(grid, photos, page)) for page in facing.values()]
    if len(sides) < 2 or not all(sides) or any(p.arranged in FULL for p in facing.values()):
        return 0.0
    scattered = any(page.arranged is Arrange.SCATTERED for page in facing.values())
    fields = [grid.picture_area(False), grid.picture_area(True).moved(grid.trim.width, 0.0)]
    score = score_spread(
        [shown for side in sides for shown in side],
        Size(2 * grid.trim.width, grid.trim.height),
        fields,
        WHITE_OF_SCATTERED if scattered else WHITE_OF_GROUPS,
    )
    return SPREAD_SHARE * (score.total - USUAL_SPREAD)


def _face(
    opening: Sequence[Matter], ways: Sequence[Way], pages: Mapping[int, PageLayout]
) -> dict[int, PageLayout]:
    """Give the two facing pages as they would be, those that show something."""
    start = _find_start(opening)
    laid = {page.number: page for way in ways for page in way.laid.pages}
    both = {n: laid.get(n) or pages.get(n) for n in (start, start + 1)}
    return {n: page for n, page in both.items() if page and page.frames}


def _show(grid: Grid, photos: Mapping[str, Photo], page: PageLayout) -> Iterator[Shown]:
    """Give a page's pictures in the spread's space."""
    across = grid.trim.width if on_recto(page.number) else 0.0
    for frame in page.frames:
        if isinstance(frame, PictureFrame):
            look = photos[frame.photo].look
            faces = look.faces if look else ()
            facing = sum(face.facing for face in faces) / len(faces) if faces else 0.0
            yield Shown(shown_box(frame).moved(across, 0.0), facing=facing)
