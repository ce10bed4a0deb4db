"""Whole books: every page there, every photograph once, nothing on top of anything."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.book.families import SHIPPED, Arrange
from wayfold.book.state import Book, PhotoChoice
from wayfold.layout.arrange import arrange_book
from wayfold.layout.fixed import FIXED
from wayfold.layout.model import BookLayout, PictureFrame, TextFrame
from wayfold.layout.ways import ARRANGERS
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.write import write_words

K = BlockKind
SHAPES = (1.5, 0.667, 1.333, 0.75, 1.778, 1.0, 2.6)
CAPTIONS = (None, "The bridge at low water", "Fog coming in from the bay, quicker than we walk")
TEXT = "We left with the first light, and walked along the river until the houses thinned. " * 9


def plan_simply(blocks) -> Plan:
    """Pages one after the other; two-page blocks begin on versos, openers on rectos."""
    pages: list[PlannedPage] = []
    for block in blocks:
        count = block.alternatives[0].pages
        number = len(pages) + 1
        if (count == 2 and number % 2) or (block.kind is K.OPENER and number % 2 == 0):
            pages.append(PlannedPage(number, None))
        for part in range(count):
            pages.append(PlannedPage(len(pages) + 1, block.id, part))
    return Plan(tuple(pages), ())


def make_book(photo_of, seed: int, trim: Size = Size(210.0, 297.0)):  # noqa: B008
    chance = random.Random(seed)
    photos, choices, blocks = {}, {}, []

    def take(count: int) -> tuple[str, ...]:
        names = []
        for _ in range(count):
            name = f"p{len(photos):03d}"
            photos[name] = replace(
                photo_of(name, chance.choice(SHAPES)), caption=chance.choice(CAPTIONS)
            )
            names.append(name)
        return tuple(names)

    def add(kind, pages, photos=(), text=None, day=None):
        name = f"{kind.value}:{len(blocks)}"
        blocks.append(Block(name, kind, (Alternative(pages),), 0, photos, text, day=day))

    add(K.HALF_TITLE, 1)
    add(K.TITLE, 1, take(chance.randrange(2)))
    add(K.FOREWORD, 1, text="foreword")
    add(K.CONTENTS, 1)
    for day in range(1, 5):
        add(K.OPENER, chance.choice([1, 2]), take(chance.randrange(3)))
        add(K.TEXT, chance.choice([1, 2]), take(chance.randrange(2)), "story")
        add(K.HERO, chance.choice([1, 2]), take(1), day=date(2025, 5, day))
        for _ in range(3):
            add(K.GROUP, chance.choice([1, 2]), take(chance.randrange(2, 7)))
            add(K.SINGLE, 1, take(1))
    add(K.CLOSING, 1, take(1))
    add(K.COLOPHON, 1)
    chapter = Chapter("Zumaia", "", "Spain", date(2025, 5, 1), date(2025, 5, 4))
    book = Book(
        "From the Mountains",
        author="Ines Calder",
        trim=trim,
        choices=choices,
        texts={"foreword": TEXT, "story": TEXT},
    )
    return book, Story((chapter,), tuple(blocks)), plan_simply(blocks), photos


def lay(measurer, book, story, plan, photos) -> BookLayout:
    words = write_words(book, story, plan, photos)
    return arrange_book(book, story, plan, words, photos, measurer)


def shown(frame) -> Rect:
    if isinstance(frame, PictureFrame) and frame.clip:
        part = frame.box.overlap(frame.clip)
        assert part is not None
        return part
    return frame.box


@given(
    seed=st.integers(0, 10_000),
    trim=st.sampled_from([Size(210.0, 297.0), Size(148.0, 210.0), Size(297.0, 210.0)]),
)
@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_any_book(measurer, photo_of, seed, trim):
    book, story, plan, photos = make_book(photo_of, seed, trim)
    layout = lay(measurer, book, story, plan, photos)
    assert [p.number for p in layout.pages] == [p.number for p in plan.pages]
    check_photographs(story, layout)
    media = Rect(0.0, 0.0, trim.width, trim.height).grown(book.bleed)
    for page in layout.pages:
        for i, frame in enumerate(page.frames):
            assert media.contains(shown(frame)), (page.family, frame)
            if isinstance(frame, PictureFrame):
                assert Rect(0.0, 0.0, 1.0, 1.0).contains(frame.crop)
            else:
                # Text keeps 5 mm off the knife (common practice).
                assert media.grown(-book.bleed - 5.0).contains(frame.box), (page.family, frame)
            for other in page.frames[i + 1 :]:
                assert shown(frame).overlap(shown(other)) is None, (page.family, frame, other)
        if any(isinstance(f, PictureFrame) and f.box.contains(media) for f in page.frames):
            assert not page.folio
        if not page.frames:
            assert (page.family, page.folio) == ("blank", False)


def check_photographs(story: Story, layout: BookLayout) -> None:
    """Every photograph of the story stands once; one across the fold has two frames of a box."""
    placed: dict[str, list[tuple[int, PictureFrame]]] = {}
    for page in layout.pages:
        for frame in page.frames:
            if isinstance(frame, PictureFrame):
                placed.setdefault(frame.photo, []).append((page.number, frame))
    assert sorted(placed) == sorted(p for b in story.blocks for p in b.photos)
    for frames in placed.values():
        if len(frames) == 2:
            (left, one), (right, other) = frames
            assert right == left + 1 and left % 2 == 0
            assert other.box.size == one.box.size
        else:
            assert len(frames) == 1


@pytest.mark.parametrize("seed", range(4))
def test_every_caption_is_read_or_missed_aloud(measurer, photo_of, seed):
    book, story, plan, photos = make_book(photo_of, seed)
    layout = lay(measurer, book, story, plan, photos)
    printed = " ".join(
        p.plain
        for page in layout.pages
        for f in page.frames
        if isinstance(f, TextFrame) and f.key.startswith("caption")
        for p in f.paragraphs
    ).replace("\N{NO-BREAK SPACE}", " ")
    wanted = Counter(photos[p].caption for b in story.blocks for p in b.photos)
    del wanted[None]
    missed = sum(f.rule == "layout.caption-left-out" for f in layout.findings)
    found = {text: printed.count(text) for text in wanted}
    assert sum(found.values()) + missed == sum(wanted.values())


def test_each_day_has_its_line_once(measurer, photo_of):
    book, story, plan, photos = make_book(photo_of, 3)
    layout = lay(measurer, book, story, plan, photos)
    keys = Counter(
        f.key
        for page in layout.pages
        for f in page.frames
        if isinstance(f, TextFrame) and f.key.startswith("day:")
    )
    assert keys == Counter(f"day:2025-05-0{d}" for d in range(1, 5))
    for page in layout.pages:
        for f in page.frames:
            if isinstance(f, TextFrame) and f.key.startswith("day:"):
                align = f.paragraphs[0].style.align
                assert align == ("right" if page.number % 2 else "left")


def test_same_input_same_book(measurer, photo_of):
    book, story, plan, photos = make_book(photo_of, 5)
    assert lay(measurer, book, story, plan, photos) == lay(measurer, book, story, plan, photos)


def test_neighbours_do_not_show_the_same_bled_page(measurer, photo_of):
    photos = {f"p{i}": photo_of(f"p{i}", 2 / 3) for i in range(8)}
    blocks = [Block(f"single:{i}", K.SINGLE, (Alternative(1),), 0, (f"p{i}",)) for i in range(8)]
    story = Story((Chapter("A", "", "", None, None),), tuple(blocks))
    layout = lay(measurer, Book("B"), story, plan_simply(blocks), photos)
    families = [page.family for page in layout.pages]
    assert families.count("bled") >= 2
    for spread in range(1, 7, 2):
        facing = families[spread : spread + 2]
        assert facing != ["bled", "bled"]
        assert not ({"bled"} <= set(facing) and "bled" in families[spread + 2 : spread + 4])


def test_missing_photographs_and_unplanned_blocks_are_findings(measurer, photo_of):
    blocks = (
        Block("a", K.GROUP, (Alternative(1),), 0, ("p0", "gone")),
        Block("b", K.SINGLE, (Alternative(1),), 0, ("p1",)),
    )
    story = Story((Chapter("A", "", "", None, None),), blocks)
    photos = {f"p{i}": photo_of(f"p{i}", 1.5) for i in range(2)}
    layout = lay(measurer, Book("B"), story, Plan((PlannedPage(1, "a"),), ()), photos)
    assert {(f.rule, f.where) for f in layout.findings} == {
        ("layout.missing-photograph", "page 1"),
        ("layout.not-planned", "b"),
    }
    assert [f.photo for f in layout.pages[0].frames] == ["p0"]


def test_a_crop_of_the_persons_own_is_shown(measurer, photo_of):
    mine = Rect(0.1, 0.2, 0.5, 0.5)
    block = Block("a", K.GROUP, (Alternative(1),), 0, ("p0", "p1"))
    photos = {f"p{i}": photo_of(f"p{i}", 1.5) for i in range(2)}
    book = Book("B", choices={"p0": PhotoChoice(crop=mine)})
    story = Story((Chapter("A", "", "", None, None),), (block,))
    layout = lay(measurer, book, story, Plan((PlannedPage(1, "a"),), ()), photos)
    assert layout.pages[0].frames[0].crop == mine


def test_every_kind_of_block_has_a_family():
    assert {*FIXED, BlockKind.HERO, BlockKind.SINGLE, BlockKind.GROUP} == set(BlockKind)
    assert set(ARRANGERS) == set(Arrange)
    assert len({family.name for family in SHIPPED}) == len(SHIPPED)


@given(
    seed=st.integers(0, 10_000),
    trim=st.sampled_from([Size(50.0, 70.0), Size(74.0, 105.0), Size(210.0, 297.0)]),
    words=st.integers(1, 300),
)
@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_what_does_not_fit_is_said_and_nothing_is_lost(measurer, photo_of, seed, trim, words):
    book, story, plan, photos = make_book(photo_of, seed, trim)
    photos = {k: replace(p, caption="endless " * words) for k, p in photos.items()}
    layout = lay(measurer, book, story, plan, photos)
    check_photographs(story, layout)
    told = {f.where for f in layout.findings}
    safe = Rect(5.0, 5.0, trim.width - 10.0, trim.height - 10.0)
    for page in layout.pages:
        texts = [f for f in page.frames if isinstance(f, TextFrame)]
        if any(not safe.contains(t.box) for t in texts):
            assert f"page {page.number}" in told
        for frame in page.frames:
            assert min(frame.box.width, frame.box.height) > 0


@pytest.mark.parametrize("aspect", [0.08, 0.2, 5.0, 12.0])
def test_extreme_shapes_find_a_place(measurer, photo_of, aspect):
    photos = {f"p{i}": photo_of(f"p{i}", aspect) for i in range(6)}
    blocks = (
        Block("a", K.HERO, (Alternative(2),), 0, ("p0",)),
        Block("b", K.SINGLE, (Alternative(1),), 0, ("p1",)),
        Block("c", K.GROUP, (Alternative(1),), 0, ("p2", "p3")),
        Block("d", K.OPENER, (Alternative(1),), 0, ("p4",)),
        Block("e", K.COLOPHON, (Alternative(1),), None, ("p5",)),
    )
    story = Story((Chapter("A", "", "", None, None),), blocks)
    layout = lay(measurer, Book("B"), story, plan_simply(blocks), photos)
    check_photographs(story, layout)
    assert layout.findings == ()
