"""Footnotes on text pages: each begins where it is called, and nothing of it is lost."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.units import mm_from_pt, pt_from_mm
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.layout.grid import make_grid
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.layout.model import RuleFrame, TextFrame
from wayfold.layout.notes import list_notes, thread_columns
from wayfold.layout.texts import count_text_pages, lay_text_pages
from wayfold.story.model import Alternative, Block, BlockKind
from wayfold.typeset.engine import Typesetter
from wayfold.typeset.frames import fill_frames
from wayfold.words.model import Words
from wayfold.words.styles import style_body, style_note
from wayfold.words.texts import style_texts

BOOK = Book("B")
BODY, NOTE = style_body(BOOK), style_note(BOOK)
LINE = mm_from_pt(BODY.leading_pt)
SENTENCE = "The path climbs through chestnut woods for an hour and then lets you out on a meadow. "


class EvenMeasurer:
    """Letters that are all 0.42 em wide; runs, and what they carry, stay as they are."""

    def _count(self, paragraph: Paragraph, width: float) -> int:
        room = int(pt_from_mm(width) / (0.42 * paragraph.style.size_pt))
        lines, used = 1, 0
        for word in paragraph.plain.split():
            used += len(word) + (1 if used else 0)
            if used > room:
                lines, used = lines + 1, len(word)
        return lines

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        return tuple(
            mm_from_pt(
                sum(
                    p.style.leading_pt * self._count(p, block.width)
                    + (p.style.space_before_pt if i else 0.0)
                    for i, p in enumerate(block.paragraphs)
                )
            )
            for block in blocks
        )

    def split_to_height(self, block, heights):
        def fit(pieces, paragraph, lines):
            count = 0
            while count < len(pieces):
                runs = tuple(run for piece in pieces[: count + 1] for run in piece)
                if self._count(Paragraph(runs, paragraph.style), block.width) > lines:
                    break
                count += 1
            return count

        heights_pt = [pt_from_mm(h) for h in heights]
        return fill_frames(block.paragraphs, heights_pt, lambda p: self._count(p, block.width), fit)


def make_note(number: int, words: int) -> tuple[Paragraph, ...]:
    text = " ".join(f"n{number}w{i}" for i in range(words))
    return (Paragraph((Run(f"{number} {text}"),), NOTE),)


def make_text(plan: Sequence[tuple[int, int, int]]) -> tuple[Paragraph, ...]:
    """Paragraphs of words before a call, the words of its note (0 = no call), words after it."""
    paragraphs = []
    for number, (before, note, after) in enumerate(plan, start=1):
        runs = [Run(" ".join(f"t{number}b{i}" for i in range(before)))]
        if note:
            runs.append(Run(str(number), superior=True, note=make_note(number, note)))
        runs.append(Run(" " + " ".join(f"t{number}a{i}" for i in range(after))))
        paragraphs.append(Paragraph(tuple(runs), BODY))
    return tuple(paragraphs)


def words_of(paragraphs: Sequence[Paragraph]) -> list[str]:
    return " ".join(p.plain for p in paragraphs).split()


PLANS = st.lists(
    st.tuples(st.integers(1, 160), st.sampled_from([0, 0, 3, 20, 60, 400]), st.integers(1, 160)),
    min_size=1,
    max_size=5,
)


@settings(max_examples=50, deadline=None)
@given(PLANS, st.integers(8, 40))
def test_no_word_is_lost_and_every_note_begins_where_it_is_called(plan, lines):
    text, measurer = make_text(plan), EvenMeasurer()
    room, width = lines * LINE, 100.0
    columns, left = thread_columns(TextBlock(text, width), [room] * 60, measurer)
    assert not left
    assert "".join(words_of([p for c in columns for p in c.text])) == "".join(words_of(text))
    notes = [p for note in list_notes(text) for p in note]
    assert words_of([p for c in columns for p in c.notes]) == words_of(notes)
    for column in columns:
        heights = [
            measurer.measure_heights([TextBlock(part, width)])[0] if part else 0.0
            for part in (column.text, column.notes)
        ]
        assert sum(heights) + (LINE if column.notes else 0.0) <= room + 0.5
        begun = {p.plain.split()[0] for p in column.notes}
        for note in list_notes(column.text):
            assert note[0].plain.split()[0] in begun
    used = [bool(column) for column in columns]
    assert used == sorted(used, reverse=True), "no page is left out between others"


def test_a_note_that_finds_room_is_not_cut():
    """Text gives way to it: the page's last lines are the note's."""
    text, measurer = make_text([(100, 60, 2000)]), EvenMeasurer()
    (column, *_), _ = thread_columns(TextBlock(text, 100.0), [30 * LINE] * 9, measurer)
    assert words_of(column.notes) == words_of(make_note(1, 60))


def test_a_note_longer_than_its_page_goes_on_with_two_lines_at_least():
    text, measurer = make_text([(40, 900, 400)]), EvenMeasurer()
    columns, left = thread_columns(TextBlock(text, 100.0), [20 * LINE] * 20, measurer)
    assert not left
    with_notes = [c for c in columns if c.notes]
    assert len(with_notes) > 1
    for column in with_notes:
        (height,) = measurer.measure_heights([TextBlock(column.notes, 100.0)])
        assert height >= 2 * mm_from_pt(NOTE.leading_pt) - 1e-6
        assert column.text, "running text stands over every part of it"


@pytest.fixture(scope="module")
def setter() -> Typesetter:
    return Typesetter()


def lay(text: str, first: int, setter: Typesetter, pages: int | None = None):
    book = Book("B", texts={"story": text})
    styled = style_texts(book)
    count = pages or count_text_pages(styled, book, setter)["story"]
    numbers = tuple(range(first, first + count))
    block = Block("b", BlockKind.TEXT, (Alternative(count),), 0, text="story")
    words = Words({"text:b": styled["story"]})
    matter = Matter(book, make_grid(book), words, {}, RememberingMeasurer(setter), block, numbers)
    return lay_text_pages(matter, "text:b", numbers, "text"), matter.grid


STORY = "\n\n".join([SENTENCE * 9] * 5 + [SENTENCE * 6 + "Rain.[^a] " + SENTENCE * 5] * 1)


def test_notes_stand_on_the_foot_under_a_hairline(setter):
    text = STORY.replace("woods", "woods[^b]", 1)
    text += "\n\n[^a]: " + SENTENCE * 2 + "\n\n[^b]: Mostly beech.\n"
    laid, grid = lay(text, 8, setter)
    assert laid.findings == ()
    page = laid.pages[0]
    body, *_ = (f for f in page.frames if isinstance(f, TextFrame))
    (note,) = (f for f in page.frames if getattr(f, "key", "").startswith("notes:"))
    (rule,) = (f for f in page.frames if isinstance(f, RuleFrame))
    # Numbered by the order of their calls, whatever they are named.
    assert note.paragraphs[0].plain == "1\N{EN SPACE}Mostly beech."
    assert note.paragraphs[0].style.size_pt == BOOK.style.caption.size_pt
    assert [r.text for p in body.paragraphs for r in p.runs if r.superior] == ["1"]
    assert body.box.bottom < rule.box.y < note.box.y
    assert rule.box.width < 0.4 * body.box.width
    # The last baseline of the note is that of a page full of text (a book keeps its foot line).
    foot = grid.canon_area(False).y + grid.column_height - mm_from_pt(BODY.size_pt / 4)
    assert note.box.bottom - mm_from_pt(NOTE.size_pt / 4) == pytest.approx(foot)
    (later,) = (
        f for p in laid.pages[1:] for f in p.frames if getattr(f, "key", "").startswith("notes:")
    )
    assert later.paragraphs[0].plain.startswith("2\N{EN SPACE}")


def test_a_short_text_keeps_its_place_and_its_note_the_foot(setter):
    laid, grid = lay(SENTENCE + "[^1]\n\n[^1]: Mostly beech.", 9, setter)
    body, rule, note = sorted(laid.pages[0].frames, key=lambda f: f.box.y)
    assert (body.key, note.key) == ("text:b", "notes:text:b")
    assert note.box.bottom == pytest.approx(grid.canon_area(True).y + grid.column_height, abs=0.5)
    assert body.box.x == rule.box.x == note.box.x


def test_what_finds_no_page_is_counted_with_its_notes(setter):
    text = STORY + "\n\n[^a]: " + SENTENCE * 60
    laid, _ = lay(text, 8, setter, pages=2)
    (finding,) = laid.findings
    assert (finding.rule, finding.severity) == ("layout.overset", "block")
    shown = [f for p in laid.pages for f in p.frames if isinstance(f, TextFrame)]
    letters = sum(len(p.plain.replace(" ", "")) for f in shown for p in f.paragraphs)
    styled = style_texts(Book("B", texts={"s": text}))["s"]
    whole = [*styled, *(p for q in styled for p in q.notes)]
    assert letters == sum(len(p.plain.replace(" ", "")) for p in whole)


@pytest.mark.parametrize("lines", [6, 25, 41, 120])
def test_counted_pages_hold_a_text_with_notes(setter, lines):
    text = "\n\n".join(f"{SENTENCE * 3}[^{i}] {SENTENCE}" for i in range(math.ceil(lines / 5)))
    text += "".join(f"\n\n[^{i}]: {SENTENCE * (1 + i % 4)}" for i in range(math.ceil(lines / 5)))
    laid, _ = lay(text, 8, setter)
    assert laid.findings == ()
    assert all(page.frames for page in laid.pages)
