"""The pages that are always laid in one way: everything that is not pictures alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from wayfold.layout.account import lay_account
from wayfold.layout.bled import lay_under_leaf
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
from wayfold.layout.tables import lay_itinerary
from wayfold.story.model import BlockKind


def _lay_opening(matter: Matter) -> Laid:
    """A chapter begins with its title, or with the picture under the leaf that bears it."""
    return lay_under_leaf(matter) if matter.veiled and matter.block.photos else lay_opener(matter)


FIXED: Mapping[BlockKind, Callable[[Matter], Laid]] = {
    BlockKind.HALF_TITLE: lay_half_title,
    BlockKind.TITLE: lay_title,
    BlockKind.CONTENTS: lay_contents,
    BlockKind.OVERVIEW: lay_map,
    BlockKind.MAP: lay_map,
    BlockKind.ITINERARY: lay_itinerary,
    BlockKind.FOREWORD: lay_matter_text,
    BlockKind.CLOSING: lay_matter_text,
    BlockKind.OPENER: _lay_opening,
    BlockKind.TEXT: lay_chapter_text,
    BlockKind.ACCOUNT: lay_account,
    BlockKind.COLOPHON: lay_colophon,
}
"""The other kinds are pictures and are laid by the families."""
