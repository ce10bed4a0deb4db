"""What asks for a translucent leaf, and which pages bear one that lies there for another's sake.

Which pages bear one is our own judgement of what a reader minds: no outside source.
"""

from datetime import date

from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.story.model import Alternative, BlockKind, Start

ALBA = """
    a 2025-05-03T10:00 Alba 3 6000x4000
    b 2025-05-03T10:05 Alba 4 4000x5600
    c 2025-05-03T10:10 Alba 5 4000x5600
    d 2025-05-03T10:15 Alba 5 6000x4000
"""
VEILED = Alternative(1, start=Start.RECTO, interleaves=(0,))


def tell(teller, photo=None, lines=ALBA, choices=None, **book):
    chapter = ChapterChoice("Alba", interleaf=True, opening_photo=photo)
    return teller.tell(lines, Book("T", chapters=(chapter,), choices=choices or {}, **book))


def rules(story):
    return [f.rule for f in story.findings]


def all_photos(story):
    return sorted(p for b in story.blocks for p in b.photos)


def test_a_chapter_opens_behind_the_picture_that_is_named(teller):
    for name in ("b", "b.jpg"):  # by id, by file name
        story = tell(teller, name)
        opener = story.block("opener:0")
        assert opener.photos == ("b",)
        assert opener.alternatives == (VEILED,)
        assert all_photos(story) == ["a", "b", "c", "d"]  # each once


def test_unnamed_it_is_the_best_rated_that_fills_a_page(teller):
    # ISO 216: A4 is 210 x 297; 4000 x 5600 loses 1 % on it, 6000 x 4000 more than half.
    assert tell(teller).block("opener:0").photos == ("c",)


def test_an_unknown_name_is_said_and_another_chosen(teller):
    story = tell(teller, "z.jpg")
    assert rules(story) == ["story.interleaf"]
    assert story.block("opener:0").photos == ("c",)


def test_with_wide_pictures_only_the_chapter_opens_without_a_leaf(teller):
    story = tell(teller, lines="a 2025-05-03T10:00 Alba\n b 2025-05-03T10:05 Alba")
    assert rules(story) == ["story.interleaf"]
    assert story.block("opener:0").alternatives[0].interleaves == ()


def test_the_only_picture_may_open_its_chapter(teller):
    story = tell(teller, lines="c 2025-05-03T10:10 Alba 5 4000x5600")
    assert [b.kind for b in story.blocks if b.photos] == [BlockKind.OPENER]


def test_an_opening_picture_lies_on_a_recto_wherever_openers_may_lie(teller):
    assert tell(teller, openers_on="any").block("opener:0").alternatives == (VEILED,)


def test_a_picture_may_ask_for_itself(teller):
    story = teller.tell(ALBA, Book("T", choices={"a": PhotoChoice(interleaf=True)}))
    assert story.block("single:a").alternatives == (VEILED,)


def test_a_hero_lies_bare(teller):
    choice = PhotoChoice(Pick.HERO, interleaf=True)
    story = teller.tell(ALBA, Book("T", choices={"a": choice}))
    assert story.block("hero:a").alternatives[0].interleaves == ()
    assert rules(story) == ["story.interleaf"]


def test_pages_of_type_and_pictures_in_white_bear_a_leaf_and_full_pages_do_not(teller):
    texts = {"foreword": "F", "closing": "C", "alba": "A"}
    book = Book(
        "T",
        texts=texts,
        chapters=(ChapterChoice("Alba", text="alba"),),
        choices={p: PhotoChoice(alone=True) for p in "ab"} | {"d": PhotoChoice(Pick.HERO)},
    )
    story = teller.tell(ALBA, book, {"alba": 3})
    bearing = {b.id: b.alternatives[0].bears for b in story.blocks}
    assert bearing["text:0"] == (0, 1, 2)
    for block in ("half-title", "title", "foreword", "opener:0", "closing", "colophon"):
        assert bearing[block] == (0,)
    assert bearing["single:a"] == (0,)  # wide, so framed in white on an upright page
    assert bearing["single:b"] == bearing["hero:d"] == ()


def test_neighbours_of_one_day_may_change_places_but_not_across_a_hero(teller):
    lines = """
        a 2025-05-03T10:00 Alba
        b 2025-05-03T10:01 Alba
        c 2025-05-03T10:02 Alba
        d 2025-05-03T15:00 Alba
        e 2025-05-03T15:01 Alba
        f 2025-05-03T15:02 Alba
        h 2025-05-03T18:00 Alba
        i 2025-05-04T10:00 Alba
        j 2025-05-04T10:01 Alba
    """
    story = teller.tell(lines, Book("T", choices={"h": PhotoChoice(Pick.HERO)}))
    swaps = {b.id: b.swap for b in story.blocks if b.photos}
    day = f"0:{date(2025, 5, 3).isoformat()}"
    assert swaps == {"group:a": day, "group:d": day, "hero:h": None, "group:i": None}
