"""Pictures change places after the story is told."""

from wayfold.story.exchange import exchange_pictures
from wayfold.story.model import Alternative, Block, BlockKind, Story

ONE = (Alternative(1),)
STORY = Story(
    (),
    (
        Block("opener:0", BlockKind.OPENER, ONE, 0, ("o",)),
        Block("group:a", BlockKind.GROUP, ONE, 0, ("a", "b")),
        Block("hero:c", BlockKind.HERO, ONE, 0, ("c",)),
    ),
)


def list_photos(story: Story) -> list[tuple[str, ...]]:
    return [block.photos for block in story.blocks]


def test_pictures_change_places_and_blocks_keep_their_ids() -> None:
    after = exchange_pictures(STORY, [("a", "c")])
    assert list_photos(after) == [("o",), ("c", "b"), ("a",)]
    assert [b.id for b in after.blocks] == [b.id for b in STORY.blocks]
    assert after.findings == ()


def test_pairs_follow_each_other() -> None:
    assert list_photos(exchange_pictures(STORY, [("a", "c"), ("a", "b")])) == [
        ("o",),
        ("c", "a"),
        ("b",),
    ]
    assert exchange_pictures(STORY, [("a", "c"), ("c", "a")]) == STORY


def test_a_pair_that_cannot_is_left_and_told() -> None:
    for pair in (("a", "gone"), ("o", "a")):
        after = exchange_pictures(STORY, [pair])
        assert list_photos(after) == list_photos(STORY)
        (told,) = after.findings
        assert pair[0] in told.message
        assert told.remedy
