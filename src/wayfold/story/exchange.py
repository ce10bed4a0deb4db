"""Pictures that the person let change places, after the story is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wayfold.base.findings import Finding, Severity
from wayfold.story.model import Block, BlockKind, Story

EXCHANGEABLE = frozenset({BlockKind.HERO, BlockKind.SINGLE, BlockKind.GROUP})
"""Blocks of pictures alone; those of others stand with a text or a title."""


def exchange_pictures(story: Story, pairs: Sequence[tuple[str, str]]) -> Story:
    """Give the story after pairs of pictures have changed places, one pair after the other.

    Blocks keep their ids. A pair of which one is not among pictures alone stays where it is, and
    is told.
    """
    blocks = list(story.blocks)
    idle: list[Finding] = []
    for one, other in pairs:
        places = [
            (at, block.photos.index(photo))
            for photo in (one, other)
            for at, block in enumerate(blocks)
            if block.kind in EXCHANGEABLE and photo in block.photos
        ]
        if len(places) < 2:
            idle.append(_tell_idle(one, other))
            continue
        for photo, (at, index) in zip((other, one), places, strict=True):
            blocks[at] = _put(blocks[at], index, photo)
    return replace(story, blocks=tuple(blocks), findings=(*story.findings, *idle))


def _put(block: Block, index: int, photo: str) -> Block:
    return replace(block, photos=(*block.photos[:index], photo, *block.photos[index + 1 :]))


def _tell_idle(one: str, other: str) -> Finding:
    return Finding(
        "story.exchange",
        Severity.NOTE,
        "book.toml, layout.exchanged",
        f"The pictures {one} and {other} were to change places, but one of them is in the book no "
        "more, or stands with a text.",
        "Take the pair from the list, or leave it there until both are back.",
    )
