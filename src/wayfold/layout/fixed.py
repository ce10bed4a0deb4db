"""The pages that the layout lays in one way only: everything that is not pictures alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from wayfold.layout.account import lay_account
from wayfold.layout.bled import lay_under_leaf
from wayfold.layout.by_hand import lay_by_hand, obeys_hand
from wayfold.layout.by_hand_texts import leave_out_placed
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


def lay_fixed(matter: Matter) -> Laid:
    """Lay a block whose kind has one way, its pictures where the person placed them."""
    lay = FIXED[matter.block.kind]
    if matter.hand is None or not obeys_hand(matter):
        return lay(matter)
    bare = leave_out_placed(matter)
    laid = lay(bare)
    if not matter.hand.pictures:
        return laid
    by_hand = lay_by_hand(bare, matter.hand, laid.pages)
    return Laid(by_hand.pages, by_hand.homeless, laid.findings, laid.score)
