"""A chapter's pictures as blocks: heroes, pictures alone, groups, day by day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby, pairwise

from wayfold.story.entries import Entry, Role
from wayfold.story.grouping import divide_into_groups
from wayfold.story.model import Alternative, Block, BlockKind, Start

ONE_PAGE = Alternative(1)
STRAY_SECONDS = 48 * 3600
"""Farther away in time, the others are no company for a picture left alone."""
UNRATED_HERO = 4
"""The importance of a hero the person named but did not rate."""
BESIDE = "beside:"
"""Before a text's key: the pages it takes with its pictures."""
PANORAMAS = 3
"""So many panoramas share a page at most."""
SCENE_LEAST, SCENE_MOST = 3, 7
"""So many pictures of one scene make a strip."""
BORDERED_ASPECT = 0.95
"""A picture alone that is this wide or wider stands in white on its upright page."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """Neighbours that stand in one way: one hero, one alone, or a run of one day together.

    A run of panoramas, or of pictures of one scene, is a run by itself.
    """

    role: Role
    entries: tuple[Entry, ...]

    @property
    def day(self) -> date | None:
        """The day of its first picture."""
        return self.entries[0].day


def make_picture_blocks(
    entries: Sequence[Entry], chapter: int, text_pages: Mapping[str, int] | None = None
) -> list[Block]:
    """Give the blocks of a chapter's pictures in order of time, every picture once.

    A picture left alone joins the nearest others, of its day before those of another, stepping
    over at most one hero or page of its own, unless two heroes would then follow each other.
    The first block that begins with a picture of a day carries its date. Pictures of one text come
    together at the first of them; ``text_pages`` says how many pages they take with it.
    """
    entries = _gather_accounts(entries)
    pieces = [
        _Piece(role, tuple(run))
        for _, of_day in groupby(entries, key=lambda e: e.day)
        for role, run in _cut_by_role(list(of_day))
    ]
    blocks: list[Block] = []
    told: set[date] = set()
    days = {e.photo: e.day for e in entries}
    for piece in _join_strays(pieces):
        for block in _make_blocks(piece, chapter, text_pages or {}):
            day = days[block.photos[0]]
            blocks.append(block if day is None or day in told else replace(block, day=day))
            told.update({day} if day else ())
    return _offer_swaps(blocks, days)


def _gather_accounts(entries: Sequence[Entry]) -> list[Entry]:
    """Give the entries with those of one text next to the first of them, and of its day."""
    gathered: list[Entry] = []
    for entry in entries:
        if entry.role is not Role.ACCOUNT:
            gathered.append(entry)
        elif all(e.text != entry.text for e in gathered):
            others = [e for e in entries if e.text == entry.text and e.role is Role.ACCOUNT]
            gathered += [replace(e, local=entry.local) for e in others]
    return gathered


def _offer_swaps(blocks: Sequence[Block], days: Mapping[str, date | None]) -> list[Block]:
    """Let neighbours of one day change places, heroes apart: what happened before them is told."""

    def key(block: Block) -> str | None:
        day = days[block.photos[0]]
        movable = block.kind is not BlockKind.HERO and day is not None
        return f"{block.chapter}:{day.isoformat()}" if movable and day else None

    swapping = []
    for wish, run in groupby(blocks, key=key):
        neighbours = list(run)
        named = wish if len(neighbours) > 1 else None
        swapping += [replace(block, swap=named) for block in neighbours]
    return swapping


def _cut_by_role(entries: Sequence[Entry]) -> list[tuple[Role, list[Entry]]]:
    cut: list[tuple[Role, list[Entry]]] = []
    for entry in entries:
        if cut and cut[-1][0] is entry.role and _goes_on(cut[-1][1], entry):
            cut[-1][1].append(entry)
        else:
            cut.append((entry.role, [entry]))
    return cut


def _goes_on(run: Sequence[Entry], entry: Entry) -> bool:
    if entry.role is Role.TOGETHER:
        return True
    if entry.role is Role.ACCOUNT:
        return entry.text == run[0].text
    return entry.role is Role.PANORAMA and len(run) < PANORAMAS


def _join_strays(pieces: list[_Piece]) -> list[_Piece]:
    joined = list(pieces)
    index = 0
    while index < len(joined):
        ways = [_join(joined, index, target) for target in _list_company(joined, index)]
        better = next((way for way in ways if way), None)
        if better is None:
            index += 1
        else:
            joined, index = better, max(0, index - 2)
    return joined


def _list_company(pieces: Sequence[_Piece], index: int) -> list[int]:
    """Give the runs that a lone picture could join, the best first."""
    piece = pieces[index]
    if piece.role is not Role.TOGETHER or len(piece.entries) > 1:
        return []
    runs = [
        i
        for i in (index - 2, index - 1, index + 1, index + 2)
        if 0 <= i < len(pieces)
        and pieces[i].role is Role.TOGETHER
        and not _is_page_of_many(pieces[(index + i) // 2])
        and _seconds_between(pieces, index, i) <= STRAY_SECONDS
    ]
    order = {i: (pieces[i].day != piece.day, _seconds_between(pieces, index, i), i) for i in runs}
    return sorted(runs, key=order.__getitem__)


def _is_page_of_many(piece: _Piece) -> bool:
    """Whether panoramas share a page here: no picture steps over them."""
    return piece.role is Role.PANORAMA and len(piece.entries) > 1


def _join(pieces: Sequence[_Piece], stray: int, target: int) -> list[_Piece] | None:
    """Give the pieces with a stray in its new company.

    None where two heroes would meet, or where the run grows so long that it is divided and a part
    of it would come before an earlier day.

    What lay between comes after the joined run if it is of a later day than the run's first
    picture, else it stays on the stray's side, so that no day comes before an earlier one.
    """
    first, last = sorted((stray, target))
    together = _Piece(Role.TOGETHER, pieces[first].entries + pieces[last].entries)
    between = list(pieces[first + 1 : last])
    ahead = stray == first and all(piece.day == together.day for piece in between)
    middle = [*between, together] if ahead else [together, *between]
    joined = [*pieces[:first], *middle, *pieces[last + 1 :]]
    # What was stepped over before may stand behind the run, so its next neighbours count too.
    around = joined[max(0, first - 2) : first + len(middle) + 2]
    if _count_meetings(joined) > _count_meetings(pieces) or not _are_days_in_order(around):
        return None
    return joined


def _count_meetings(pieces: Sequence[_Piece]) -> int:
    return sum(one.role is other.role is Role.HERO for one, other in pairwise(pieces))


def _are_days_in_order(pieces: Sequence[_Piece]) -> bool:
    firsts = [
        group[0].day or date.max
        for piece in pieces
        for group in (
            divide_into_groups(piece.entries) if piece.role is Role.TOGETHER else [piece.entries]
        )
    ]
    return firsts == sorted(firsts)


def _seconds_between(pieces: Sequence[_Piece], one: int, other: int) -> float:
    first, last = sorted((one, other))
    end, start = pieces[first].entries[-1].local, pieces[last].entries[0].local
    return (start - end).total_seconds() if start and end else 0.0


def _make_blocks(piece: _Piece, chapter: int, text_pages: Mapping[str, int]) -> list[Block]:
    if piece.role is Role.HERO:
        return [_make_hero(piece.entries[0], chapter)]
    if piece.role is Role.ACCOUNT:
        return [_make_account(piece.entries, chapter, text_pages)]
    if len(piece.entries) == 1:
        return [_make_single(piece.entries[0], chapter)]
    if piece.role is Role.PANORAMA:
        return [_make_page(piece.entries, chapter)]
    blocks = []
    for scene, run in _part_scenes(piece.entries):
        if scene is not None:
            blocks.append(replace(_make_page(run, chapter), scene=True))
            continue
        blocks += [
            _make_single(group[0], chapter) if len(group) == 1 else _make_group(group, chapter)
            for group in divide_into_groups(run)
        ]
    return blocks


def _part_scenes(entries: Sequence[Entry]) -> list[tuple[int | None, tuple[Entry, ...]]]:
    """Part a run into scenes that make a strip, and what lies before, between and after them.

    Where one picture would be left over by itself, the run stays whole.
    """
    parted: list[tuple[int | None, tuple[Entry, ...]]] = []
    for scene, group in groupby(entries, key=lambda e: e.scene):
        run = tuple(group)
        strip = scene is not None and SCENE_LEAST <= len(run) <= SCENE_MOST
        if not strip and parted and parted[-1][0] is None:
            parted[-1] = (None, parted[-1][1] + run)
        else:
            parted.append((scene if strip else None, run))
    stray = any(scene is None and len(run) == 1 for scene, run in parted)
    return [(None, tuple(entries))] if stray else parted


def _make_hero(entry: Entry, chapter: int) -> Block:
    return Block(
        f"hero:{entry.photo}",
        BlockKind.HERO,
        (Alternative(2, start=Start.VERSO, spreads=(0,)),),
        chapter,
        (entry.photo,),
        importance=entry.rating or UNRATED_HERO,
    )


def _make_single(entry: Entry, chapter: int) -> Block:
    """A picture under a leaf lies on a recto, so that it is met veiled and then bare.

    One in white bears a leaf for another's sake; one that fills its page would be hidden by it.
    """
    way = ONE_PAGE
    if entry.interleaf:
        way = Alternative(1, start=Start.RECTO, interleaves=(0,))
    elif entry.aspect >= BORDERED_ASPECT:
        way = replace(ONE_PAGE, bears=(0,))
    return Block(f"single:{entry.photo}", BlockKind.SINGLE, (way,), chapter, (entry.photo,))


def _make_group(group: Sequence[Entry], chapter: int) -> Block:
    photos = tuple(e.photo for e in group)
    ways = offer_group_pages(len(group))
    return Block(f"group:{photos[0]}", BlockKind.GROUP, ways, chapter, photos)


def _make_account(entries: Sequence[Entry], chapter: int, text_pages: Mapping[str, int]) -> Block:
    key = entries[0].text or ""
    pages = text_pages.get(f"{BESIDE}{key}", 1)
    way = Alternative(pages, start=Start.ANY if pages == 1 else Start.VERSO)
    photos = tuple(e.photo for e in entries)
    return Block(f"account:{photos[0]}", BlockKind.ACCOUNT, (way,), chapter, photos, key)


def _make_page(group: Sequence[Entry], chapter: int) -> Block:
    """Pictures that want one page together, whatever their number."""
    return replace(_make_group(group, chapter), alternatives=(ONE_PAGE,))


def offer_group_pages(pictures: int) -> tuple[Alternative, ...]:
    """Give the ways to lay two to nine pictures, the preferred first.

    Up to four suit one page, more suit two facing ones; costs grow with the distance from that.
    """
    facing = Alternative(2, start=Start.VERSO)
    if pictures <= 3:
        return (ONE_PAGE, replace(facing, cost=3))
    if pictures == 4:
        return (ONE_PAGE, replace(facing, cost=1))
    return (facing, replace(ONE_PAGE, cost=2 * (pictures - 4)))
