"""Captions of pictures that fill their page find white nearby, and say where the picture is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from wayfold.book.state import Book
from wayfold.layout.arrange import arrange_book
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.words.write import write_words

K = BlockKind
FOG = "Fog from the bay"
BOATS = "Boats in winter"


def lay(measurer, photo_of, blocks, captions, pages=None):
    names = [p for b in blocks for p in b.photos]
    shapes = {"up": 2 / 3, "wide": 1.5}
    photos = {n: photo_of(n, shapes[n.split("-")[0]]) for n in names}
    photos = {n: replace(p, caption=captions.get(n)) for n, p in photos.items()}
    if pages is None:
        pages = [b.id for b in blocks for _ in range(b.alternatives[0].pages)]
    plan = Plan(tuple(PlannedPage(i, b) for i, b in enumerate(pages, start=1)), ())
    story = Story((Chapter("Zumaia", "", "", None, None),), tuple(blocks))
    book = Book("B", texts={"story": "The sea."})
    words = write_words(book, story, plan, photos)
    return arrange_book(book, story, plan, words, photos, measurer)


def block(name, kind, photos=(), pages=1, text=None):
    return Block(name, kind, (Alternative(pages),), 0, photos, text)


def captions_on(page) -> list[str]:
    return [
        p.plain.replace("\N{NO-BREAK SPACE}", " ")
        for f in page.frames
        if isinstance(f, TextFrame) and f.key.startswith("caption")
        for p in f.paragraphs
    ]


def test_the_facing_page_takes_it_under_its_own(measurer, photo_of):
    blocks = [
        block("t", K.HALF_TITLE),
        block("a", K.SINGLE, ("up-0",)),
        block("b", K.SINGLE, ("wide-1",)),
        block("c", K.COLOPHON),
    ]
    layout = lay(measurer, photo_of, blocks, {"up-0": FOG, "wide-1": BOATS})
    assert [p.family for p in layout.pages[1:3]] == ["bled", "framed"]
    assert captions_on(layout.pages[2]) == [BOATS, f"Opposite: {FOG}"]
    assert layout.findings == ()


def test_a_white_facing_page_takes_it_and_gets_its_folio(measurer, photo_of):
    blocks = [block("a", K.SINGLE, ("up-0",))]
    layout = lay(measurer, photo_of, blocks, {"up-0": FOG}, [None, None, "a", None])
    assert captions_on(layout.pages[1]) == [f"Opposite: {FOG}"]
    assert layout.pages[1].folio and not layout.pages[2].folio


def test_text_pages_and_openers_take_it_at_their_foot(measurer, photo_of):
    for host in (block("x", K.TEXT, text="story"), block("x", K.OPENER)):
        blocks = [block("t", K.HALF_TITLE), block("a", K.SINGLE, ("up-0",)), host]
        page = lay(measurer, photo_of, blocks, {"up-0": FOG}).pages[2]
        assert captions_on(page) == [f"Opposite: {FOG}"]
        text, caption = page.frames
        assert caption.box.x == pytest.approx(text.box.x)
        assert caption.box.bottom == pytest.approx(297 - 28)


def test_behind_a_title_page_it_goes_overleaf(measurer, photo_of):
    blocks = [
        block("g", K.GROUP, ("wide-0", "wide-1")),
        block("a", K.SINGLE, ("up-2",)),
        block("t", K.TITLE),
    ]
    layout = lay(measurer, photo_of, blocks, {"up-2": FOG})
    assert layout.pages[1].family == "bled"
    assert captions_on(layout.pages[0]) == [f"Overleaf: {FOG}"]


def test_without_white_it_is_missed_aloud(measurer, photo_of):
    blocks = [block("t", K.TITLE), block("a", K.SINGLE, ("up-0",)), block("u", K.HALF_TITLE)]
    layout = lay(measurer, photo_of, blocks, {"up-0": FOG})
    (finding,) = layout.findings
    assert (finding.rule, finding.where) == ("layout.caption-left-out", "page 2")


def test_a_picture_across_the_fold_keeps_its_caption_in_a_band(measurer, photo_of):
    blocks = [block("t", K.HALF_TITLE), block("h", K.HERO, ("wide-0",), 2)]
    captioned = lay(measurer, photo_of, blocks, {"wide-0": BOATS})
    assert captions_on(captioned.pages[2]) == [BOATS]
    assert captioned.pages[1].folio and captioned.pages[2].folio
    silent = lay(measurer, photo_of, blocks, {})
    frames = [f for p in silent.pages[1:3] for f in p.frames]
    assert all(isinstance(f, PictureFrame) for f in frames)
    assert frames[0].box.height == pytest.approx(303.0)
    assert not silent.pages[1].folio and not silent.pages[2].folio


def test_titles_and_captions_have_lines_of_even_length(make_matter):
    matter = make_matter([1.5], captions={0: "Evening over the lower hills; the last bus had gone"})
    paragraphs = matter.words.get("caption:p0")
    one_line = matter.height(paragraphs, 200.0)
    for width in (40.0, 50.0, 60.0):
        balanced = matter.balance(paragraphs, width)
        assert balanced <= width
        assert matter.height(paragraphs, balanced) == matter.height(paragraphs, width)
    assert matter.balance(paragraphs, 200.0) == 200.0
    assert matter.height(paragraphs, 60.0) > one_line
    assert matter.balance(paragraphs, 60.0) < 60.0


def test_a_text_page_between_two_such_pictures_takes_the_nearer_ones_caption(measurer, photo_of):
    blocks = [
        block("t", K.HALF_TITLE),
        block("a", K.SINGLE, ("up-0",)),
        block("x", K.TEXT, text="story"),
        block("b", K.SINGLE, ("up-1",)),
        block("e", K.TITLE),
    ]
    layout = lay(measurer, photo_of, blocks, {"up-0": FOG, "up-1": BOATS})
    assert captions_on(layout.pages[2])[0] == f"Opposite: {FOG}"
    printed = sum(BOATS in c for p in layout.pages for c in captions_on(p))
    missed = [f.where for f in layout.findings if f.rule == "layout.caption-left-out"]
    assert printed == 1 or missed == ["page 4"]
