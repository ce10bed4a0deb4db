"""The story: chapters and blocks in order, each with the ways it could be laid on pages."""

from __future__ import annotations

import enum
from dataclasses import dataclass
from datetime import date

from wayfold.base.findings import Finding


class BlockKind(enum.StrEnum):
    """What a block is to the reader."""

    HALF_TITLE = "half-title"
    TITLE = "title"
    FOREWORD = "foreword"
    CONTENTS = "contents"
    OVERVIEW = "overview"
    """The map of the whole journey."""
    ITINERARY = "itinerary"
    """The journey as a table, day by day."""
    OPENER = "opener"
    """A chapter's first page: its title, dates and country."""
    MAP = "map"
    """The map of a chapter's town, with its numbered places."""
    TEXT = "text"
    """The chapter's story; may run over several pages."""
    ACCOUNT = "account"
    """A text and the pictures it tells of: a hotel, a meal, a person met."""
    HERO = "hero"
    """One picture across two facing pages."""
    SINGLE = "single"
    """One picture with a page to itself, bordered or bled off."""
    GROUP = "group"
    """Two to nine pictures that belong together, on one page or two facing ones."""
    CLOSING = "closing"
    COLOPHON = "colophon"


class Start(enum.StrEnum):
    """The side a block's first page must lie on."""

    RECTO = "recto"
    VERSO = "verso"
    ANY = "any"


@dataclass(frozen=True, slots=True)
class Alternative:
    """One way to lay a block on pages.

    ``pages`` long, first page on ``start``; ``cost`` says how far it is from what suits the block
    best (0 = best). ``spreads`` are the block's page indices (from 0) at which a picture begins
    that crosses the fold to the next page: each must fall on a verso. ``interleaves`` are the page
    indices over which a translucent leaf is asked for; ``bears`` those beside which a leaf that
    lies there for its other end's sake may carry a caption without harm.
    """

    pages: int
    cost: int = 0
    start: Start = Start.ANY
    spreads: tuple[int, ...] = ()
    interleaves: tuple[int, ...] = ()
    bears: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """A piece of the story that stays together.

    ``alternatives`` has at least one entry, the preferred first. ``text`` is a key of the book's
    texts. ``importance`` ranks heroes (1-5). ``day`` is set on the first block of each day.
    Neighbouring blocks with the same ``swap`` key may change places.
    """

    id: str
    kind: BlockKind
    alternatives: tuple[Alternative, ...]
    chapter: int | None = None
    """Index into ``Story.chapters``."""
    photos: tuple[str, ...] = ()
    text: str | None = None
    importance: int = 0
    day: date | None = None
    swap: str | None = None
    scene: bool = False
    """Whether its pictures show one scene as it went on."""


@dataclass(frozen=True, slots=True)
class Chapter:
    """A place and the days spent there."""

    title: str
    subtitle: str
    country_name: str
    first: date | None
    last: date | None
    accent: str | None = None
    """ "#rrggbb", or None for the style's own."""
    mapped: str | None = None
    """The country (ISO 3166-1 alpha-2) whose map the leaf over the opening picture bears."""
    place: str = ""
    """The place as the journey names it, whatever the chapter's title; "" on the way."""


@dataclass(frozen=True, slots=True)
class Story:
    """Chapters, and blocks in reading order (front and back matter included)."""

    chapters: tuple[Chapter, ...]
    blocks: tuple[Block, ...]
    findings: tuple[Finding, ...] = ()

    def block(self, block_id: str) -> Block:
        """The block with that id. Raises KeyError."""
        for block in self.blocks:
            if block.id == block_id:
                return block
        raise KeyError(block_id)
