"""What to call the story's blocks when speaking to a person, who never sees an id elsewhere."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import PurePath

from wayfold.photos.model import Photo
from wayfold.story.model import Block, BlockKind, Story

_PLAIN = {
    BlockKind.HALF_TITLE: "the half-title",
    BlockKind.TITLE: "the title page",
    BlockKind.FOREWORD: "the foreword",
    BlockKind.CONTENTS: "the contents",
    BlockKind.OVERVIEW: "the overview map",
    BlockKind.ITINERARY: "the itinerary",
    BlockKind.CLOSING: "the closing page",
    BlockKind.COLOPHON: "the colophon",
}
_OF_CHAPTERS = {BlockKind.OPENER: "opener", BlockKind.TEXT: "text", BlockKind.MAP: "map"}


def name_blocks(story: Story, photos: Mapping[str, Photo]) -> dict[str, str]:
    """Give a name for every block by id, such as "hero DSC_0042" or "opener Lisbon"."""
    return {block.id: _name_block(story, block, photos) for block in story.blocks}


def put_names(text: str, names: Mapping[str, str]) -> str:
    """Write names for the ids of blocks in ``text``."""
    ids = sorted(names, key=len, reverse=True)
    pattern = "|".join(re.escape(block) for block in ids)
    return re.sub(rf"(?<!\w)(?:{pattern})(?!\w)", lambda m: names[m[0]], text) if ids else text


def _name_block(story: Story, block: Block, photos: Mapping[str, Photo]) -> str:
    if block.kind in _PLAIN:
        return _PLAIN[block.kind]
    if block.kind is BlockKind.TEXT and block.day:
        return f"text of {block.day.isoformat()}"
    if block.kind in _OF_CHAPTERS and block.chapter is not None:
        return f"{_OF_CHAPTERS[block.kind]} {story.chapters[block.chapter].title}"
    if not block.photos:
        return block.id
    first = PurePath(photos[block.photos[0]].path).stem
    more = f" + {len(block.photos) - 1}" if len(block.photos) > 1 else ""
    return f"{block.kind.value} {first}{more}"
