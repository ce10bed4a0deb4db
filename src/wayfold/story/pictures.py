"""A chapter's pictures as blocks: heroes, pictures alone, groups, day by day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby

from wayfold.story.entries import Entry, Role
from wayfold.story.grouping import divide_into_groups
from wayfold.story.model import Alternative, Block, BlockKind, Start

ONE_PAGE = Alternative(1)
UNRATED_HERO = 4
"""The importance of a hero the person named but did not rate."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """Neighbours in one day that stand in one way: one hero, one alone, or a run together."""

    day: date | None
    role: Role
    entries: tuple[Entry, ...]


def make_picture_blocks(entries: Sequence[Entry], chapter: int) -> list[Block]:
    """Give the blocks of a chapter's pictures in order of time, every picture once.

    A picture left alone between heroes and pages of their own steps over one of them to join
    the others of its day, unless two heroes would then follow each other. The first block of
    each day carries the date.
    """
    pieces = [
        _Piece(day, role, tuple(run))
        for day, of_day in groupby(entries, key=lambda e: e.day)
        for role, run in _cut_by_role(list(of_day))
    ]
    blocks: list[Block] = []
    last_day = None
    for piece in _join_strays(pieces):
        for block in _make_blocks(piece, chapter):
            if piece.day and piece.day != last_day:
                last_day = piece.day
                block = replace(block, day=piece.day)
            blocks.append(block)
    return blocks


def _cut_by_role(entries: Sequence[Entry]) -> list[tuple[Role, list[Entry]]]:
    cut: list[tuple[Role, list[Entry]]] = []
    for entry in entries:
        if cut and cut[-1][0] is entry.role is Role.TOGETHER:
            cut[-1][1].append(entry)
        else:
            cut.append((entry.role, [entry]))
    return cut


def _join_strays(pieces: list[_Piece]) -> list[_Piece]:
    joined = list(pieces)
    index = 0
    while index < len(joined):
        target = _find_company(joined, index)
        if target is None:
            index += 1
            continue
        first, last = sorted((index, target))
        together = joined[first].entries + joined[last].entries
        joined[target] = replace(joined[target], entries=together)
        del joined[index]
        index = max(0, index - 1)
    return joined


def _find_company(pieces: Sequence[_Piece], index: int) -> int | None:
    """Give the index of the run that a lone picture should join, if any."""
    piece = pieces[index]
    if piece.role is not Role.TOGETHER or len(piece.entries) > 1:
        return None
    neighbours = [pieces[i] for i in (index - 1, index + 1) if 0 <= i < len(pieces)]
    if len(neighbours) == 2 and all(n.role is Role.HERO for n in neighbours):
        return None
    runs = [
        i
        for i in (index - 2, index + 2)
        if 0 <= i < len(pieces) and pieces[i].role is Role.TOGETHER and pieces[i].day == piece.day
    ]
    return min(runs, key=lambda i: (_seconds_between(pieces, index, i), i), default=None)


def _seconds_between(pieces: Sequence[_Piece], one: int, other: int) -> float:
    first, last = sorted((one, other))
    end, start = pieces[first].entries[-1].local, pieces[last].entries[0].local
    return (start - end).total_seconds() if start and end else 0.0


def _make_blocks(piece: _Piece, chapter: int) -> list[Block]:
    if piece.role is Role.HERO:
        return [_make_hero(piece.entries[0], chapter)]
    if piece.role is Role.ALONE:
        return [_make_single(piece.entries[0], chapter)]
    return [
        _make_single(group[0], chapter) if len(group) == 1 else _make_group(group, chapter)
        for group in divide_into_groups(piece.entries)
    ]


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
    return Block(f"single:{entry.photo}", BlockKind.SINGLE, (ONE_PAGE,), chapter, (entry.photo,))


def _make_group(group: Sequence[Entry], chapter: int) -> Block:
    photos = tuple(e.photo for e in group)
    ways = offer_group_pages(len(group))
    return Block(f"group:{photos[0]}", BlockKind.GROUP, ways, chapter, photos)


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
