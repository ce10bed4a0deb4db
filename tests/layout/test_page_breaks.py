"""Where long texts break from page to page, read back from the set pages.

"Never begin a page with the last line of a multi-line paragraph" (R. Bringhurst, The Elements of
Typographic Style, 2.4.8), nor end one with the first; no hyphen where the page ends (2.4.10).
"""

from __future__ import annotations

import random
import re
from collections import defaultdict
from datetime import date
from itertools import pairwise

import pypdfium2 as pdfium
import pytest

from wayfold.base.geometry import Size
from wayfold.book.state import Book
from wayfold.drawing.items import Drawing, Text
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.day_openers import open_day
from wayfold.layout.grid import make_grid
from wayfold.layout.homes import set_day_lines
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.layout.model import RuleFrame, TextFrame
from wayfold.layout.openings import lay_chapter_text
from wayfold.layout.texts import count_text_pages
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Story
from wayfold.typeset.engine import Typesetter
from wayfold.words.model import Words
from wayfold.words.styles import style_running_head
from wayfold.words.texts import style_texts
from wayfold.words.write import _write_day_lines

DAY = date(2025, 5, 12)
SYLLABLES = ("mon", "ta", "ne", "ri", "ver", "sol", "e", "mare", "pont", "cal", "ding", "wa", "ter")


@pytest.fixture(scope="module")
def setter() -> Typesetter:
    return Typesetter()


def write_paragraph(chance: random.Random, number: int, words: int) -> str:
    """Words by chance, the first and the last of them naming the paragraph."""
    made = ["".join(chance.choices(SYLLABLES, k=chance.randint(1, 4))) for _ in range(words)]
    return " ".join([f"P{number}q", *made, f"end{number}q."])


def lay(text: str, setter: Typesetter, first: int = 8, pages: int = 0, book: Book | None = None):
    book = book or Book("B", texts={"s": text})
    styled = style_texts(book)
    count = pages or count_text_pages(styled, book, setter)["s"]
    numbers = tuple(range(first, first + count))
    block = Block("b", BlockKind.TEXT, (Alternative(count),), 0, text="s", day=DAY)
    story = Story((Chapter("Pisa", "", "", DAY, DAY),), (block,))
    running = (Paragraph((Run("Pisa"),), style_running_head(book)),)
    words = {"text:b": styled["s"], "running:0": running, **_write_day_lines(book, story, None)}
    matter = Matter(
        book, make_grid(book), Words(words), {}, RememberingMeasurer(setter), block, numbers
    )
    return matter, lay_chapter_text(matter)


def read_pages(laid, setter: Typesetter) -> list[list[str]]:
    """The lines of running text of each page, as they can be read from its PDF."""
    pages = []
    for page in laid.pages:
        frames = [f for f in page.frames if isinstance(f, TextFrame) and f.key.startswith("text:")]
        items = tuple(Text(f.box, f.paragraphs, f.key) for f in frames)
        proof = setter.page_pdf(Drawing("p", Size(210.0, 297.0), 0.0, items))
        assert not proof.findings
        read = pdfium.PdfDocument(proof.pdf)[0].get_textpage().get_text_range()
        # pdfium gives U+FFFE for a hyphen at a line's end, and reads on without an end of line.
        lines = read.replace("\ufffe", "-\n").splitlines()
        pages.append([line.strip() for line in lines if line.strip()])
    return pages


def number_lines(pages: list[list[str]]) -> list[list[int]]:
    """The paragraph that each line belongs to."""
    now, numbered = 0, []
    for page in pages:
        numbers = []
        for line in page:
            begun = re.match(r"P(\d+)q", line)
            now = int(begun[1]) if begun else now
            numbers.append(now)
        numbered.append(numbers)
    return numbered


@pytest.mark.parametrize("seed", [*range(6), 64, 135])
def test_no_page_begins_with_a_last_line_or_ends_with_a_first(setter, seed):
    chance = random.Random(seed)
    longest = chance.choice([30, 60, 150, 400])
    words = [chance.randint(2, longest) for _ in range(chance.randint(900, 2600) // longest + 3)]
    text = "\n\n".join(write_paragraph(chance, i, n) for i, n in enumerate(words))
    _, laid = lay(text, setter)
    assert laid.findings == ()
    pages = read_pages(laid, setter)
    assert len(pages) > 1, "the text is long enough to break"
    lines = number_lines(pages)
    assert sorted({n for page in lines for n in page}) == list(range(len(words)))
    on_page = defaultdict(list)
    for page in lines:
        for number in sorted(set(page)):
            on_page[number].append(page.count(number))
    for number, counts in on_page.items():
        if len(counts) > 1:
            assert min(counts) >= 2, f"paragraph {number} stands {counts} lines a page"
    for page in pages[:-1]:
        assert not page[-1].endswith("-"), "a word goes over the page"


@pytest.mark.parametrize("before", range(24, 38))
def test_a_heading_goes_on_with_what_it_heads(setter, before):
    chance = random.Random(before)
    text = "\n\n".join(["Short."] * before + ["# The ridge", write_paragraph(chance, 1, 120)])
    _, laid = lay(text, setter)
    for one, other in pairwise(read_pages(laid, setter)):
        assert not one[-1].casefold().startswith("the ridge")
        if other[0].casefold().startswith("the ridge"):
            assert other[1].startswith("P1q")


def test_a_text_longer_than_its_pages_says_so_and_shows_all(setter):
    text = "\n\n".join(write_paragraph(random.Random(i), i, 150) for i in range(12))
    _, laid = lay(text, setter, pages=1)
    (finding,) = laid.findings
    assert (finding.rule, finding.severity) == ("layout.overset", "block")
    letters = "".join(p.plain for f in laid.pages[0].frames if isinstance(f, TextFrame)
                      and f.key.startswith("text:") for p in f.paragraphs)  # fmt: skip
    assert "end11q" in letters


@pytest.mark.parametrize("first", [8, 9])
@pytest.mark.parametrize("words", [40, 400, 900])
def test_a_days_text_bears_its_date_in_the_outer_margin(setter, first, words):
    text = "\n\n".join(write_paragraph(random.Random(i), i, 80) for i in range(words // 80 + 1))
    matter, laid = lay(text, setter, first)
    body, *_ = (f for f in laid.pages[0].frames if getattr(f, "key", "") == "text:b")
    (told,) = (f for f in laid.pages[0].frames if getattr(f, "key", "") == "day:2025-05-12")
    (rule,) = (f for f in laid.pages[0].frames if isinstance(f, RuleFrame))
    assert [p.plain.replace("\N{NO-BREAK SPACE}", " ") for p in told.paragraphs] == [
        "Day 1",
        "12 May 2025",
    ]
    assert rule.box.width == 0.0
    assert body.box.y < rule.box.y < rule.box.bottom <= body.box.bottom
    order = [told.box.right, rule.box.x, body.box.x]
    if first % 2:
        order = [body.box.right, rule.box.x, told.box.x]
    assert order == sorted(order)
    # Its first line is level with the text's.
    level = [f.box.y + f.paragraphs[0].style.first_baseline_pt * 25.4 / 72 for f in (body, told)]
    assert level[0] == pytest.approx(level[1])
    # The days' own lines at the head are not set a second time.
    pages, findings = set_day_lines([matter], {p.number: p for p in laid.pages})
    assert pages == {p.number: p for p in laid.pages}
    assert findings == ()


@pytest.mark.parametrize("first", [8, 9])
def test_running_heads_name_the_chapter_and_mirror_about_the_fold(setter, first):
    text = "\n\n".join(write_paragraph(random.Random(i), i, 150) for i in range(14))
    matter, laid = lay(text, setter, first)
    assert len(laid.pages) >= 4
    heads = {p.number: [f for f in p.frames if getattr(f, "key", "").startswith("running:")]
             for p in laid.pages}  # fmt: skip
    assert heads.pop(first) == []
    for number, (head,) in heads.items():
        assert [p.plain for p in head.paragraphs] == ["Pisa"]
        assert head.paragraphs[0].style.align == ("right" if number % 2 else "left")
        area = matter.grid.text_area(bool(number % 2))
        assert (head.box.x, head.box.width) == (area.x, area.width)
        assert head.box.bottom < area.y


def test_a_margin_too_narrow_for_the_date_leaves_it_to_the_head(setter):
    text = write_paragraph(random.Random(1), 1, 200)
    book = Book("B", texts={"s": text}, trim=Size(148.0, 210.0))
    matter, laid = lay(text, setter, 9, book=book)
    assert open_day(matter, laid) == laid
    pages, findings = set_day_lines([matter], {p.number: p for p in laid.pages})
    (told,) = (f for f in pages[9].frames if getattr(f, "key", "").startswith("day:"))
    assert len(told.paragraphs) == 1
    assert findings == ()
    assert told.box.bottom < matter.grid.picture_area(True).y
