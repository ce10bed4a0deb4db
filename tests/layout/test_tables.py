"""Tables always fit: widths by brute force, nothing lost over pages, real type looked at."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.layout.conftest import CountingMeasurer
from tests.trip.journey_world import event, shots, travel
from wayfold.base.geometry import Size
from wayfold.book.state import Book
from wayfold.book.trip_choices import DayNote, TripChoices
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import Paragraph, Run, TextBlock
from wayfold.layout.grid import make_grid
from wayfold.layout.judge import judge_pages
from wayfold.layout.matter import Matter, RememberingMeasurer
from wayfold.layout.model import BookLayout, Frame, PageLayout, TextFrame
from wayfold.layout.table_widths import WIDTHS, ZERO_WIDTH, fit_columns
from wayfold.layout.tables import COLUMN_GAP, lay_itinerary, set_itinerary
from wayfold.pages.compose import compose_pages
from wayfold.plan.model import Plan, PlannedPage
from wayfold.story.model import Alternative, Block, BlockKind, Story
from wayfold.typeset.engine import Typesetter
from wayfold.words.itinerary import Itinerary, write_itinerary
from wayfold.words.model import Words
from wayfold.words.styles import style_folio
from wayfold.words.tables import Table

BOOK = Book("T")
STYLE = style_folio(BOOK)


def cell(text: str) -> tuple[Paragraph, ...]:
    return (Paragraph((Run(text),), STYLE),) if text else ()


def table(*rows: str) -> Table:
    """A table from rows of cells parted by bars; the first row is the head."""
    cells = [tuple(cell(part.strip()) for part in row.split("|")) for row in rows]
    return Table(cells[0], tuple(cells[1:]))


def height_of(given: Table, widths: tuple[float, ...], measurer: CountingMeasurer) -> float:
    total = 0.0
    for row in (given.head, *given.rows):
        blocks = [TextBlock(c, w) for c, w in zip(row, widths, strict=True) if c]
        total += max(measurer.measure_heights(blocks), default=0.0)
    return total


WORDS = st.sampled_from(["a", "of the way", "Barcelona", "a long walk by the sea to Sitges", ""])


@settings(max_examples=40)
@given(st.lists(st.tuples(WORDS, WORDS, WORDS), min_size=1, max_size=5))
def test_no_other_widths_are_lower(rows: list[tuple[str, str, str]]) -> None:
    given_table = table("A|B|C", *("|".join(row) for row in rows))
    measurer, width = CountingMeasurer(), 90.0
    fitted = fit_columns(given_table, width, COLUMN_GAP, measurer)
    assert sum(fitted.widths) + COLUMN_GAP * 2 == pytest.approx(width)
    ours = fitted.head_height + sum(fitted.heights)
    room = width - 2 * COLUMN_GAP
    least = [17.0 if any("Barcelona" in r[i] for r in rows) else 11.0 for i in range(3)]
    for widths in itertools.product([float(w) for w in WIDTHS], repeat=3):
        if sum(widths) <= room and all(w >= m for w, m in zip(widths, least, strict=True)):
            assert ours <= height_of(given_table, widths, measurer) + 1e-6


def test_on_a_narrow_page_columns_stand_under_each_other() -> None:
    given_table = table("Day|Place|Way|Night", "Monday|Barcelona|Bilbao–Barcelona|Guggenheim")
    fitted = fit_columns(given_table, 40.0, COLUMN_GAP, CountingMeasurer())
    assert len(fitted.widths) < 4
    assert sum(fitted.widths) + COLUMN_GAP * (len(fitted.widths) - 1) == pytest.approx(40.0)
    words = "".join(p.plain for c in fitted.table.rows[0] for p in c)
    assert words == "MondayBarcelonaBilbao–BarcelonaGuggenheim"


def test_words_without_end_may_break_anywhere() -> None:
    endless = "https://" + "x" * 200
    fitted = fit_columns(table("A|B", f"a|{endless}"), 100.0, COLUMN_GAP, CountingMeasurer())
    assert fitted.table.rows[0][1][0].plain.replace(ZERO_WIDTH, "") == endless
    assert sum(fitted.widths) + COLUMN_GAP == pytest.approx(100.0)


def matter(book: Book, itinerary: Itinerary, pages: int, measurer: object) -> Matter:
    block = Block("itinerary", BlockKind.ITINERARY, (Alternative(pages),))
    return Matter(
        book,
        make_grid(book),
        Words({}, (), itinerary),
        {},
        RememberingMeasurer(measurer),  # type: ignore[arg-type]
        block,
        tuple(range(6, 6 + pages)),
    )


def many_days(count: int, note: str = "") -> Itinerary:
    rows = [f"Bilbao 2025-{5 + n // 28:02}-{1 + n % 28:02}T10:00 120" for n in range(count)]
    notes = tuple(DayNote(date(2025, 5, 1 + n), f"{note} {n}") for n in range(min(28, count)))
    said = TripChoices(days=notes if note else (), itinerary=True)
    journey = travel(shots(*rows), event("Hotel", "20250502", "20250504", "Bilbao"), choices=said)
    return write_itinerary(BOOK, journey)


def draw(book: Book, pages: tuple[PageLayout, ...]) -> tuple[Drawing, ...]:
    plan = Plan(tuple(PlannedPage(page.number, "itinerary", 0) for page in pages), (), ())
    return compose_pages(book, Story((), ()), plan, BookLayout(pages))


def all_words(frames: list[Frame]) -> str:
    return "".join(p.plain for f in frames if isinstance(f, TextFrame) for p in f.paragraphs)


@pytest.mark.parametrize("count", [1, 12, 40, 90])
def test_long_tables_go_over_pages_with_their_head_on_each(count: int) -> None:
    itinerary, measurer = many_days(count), CountingMeasurer()
    pages = len(set_itinerary(itinerary, make_grid(BOOK), measurer).pages)
    laid = lay_itinerary(matter(BOOK, itinerary, pages, measurer))
    assert len(laid.pages) == pages
    heads = sum("Place" in all_words(list(page.frames)) for page in laid.pages)
    assert heads == pages
    shown = "".join(all_words(list(page.frames)) for page in laid.pages)
    for row in itinerary.table.rows:
        assert row[1][0].plain in shown
    assert judge_pages(make_grid(BOOK), laid.pages) == ()


def test_a_row_higher_than_a_page_is_cut_between_lines_and_loses_nothing() -> None:
    itinerary, measurer = many_days(3, "word " * 4000), CountingMeasurer()
    pages = len(set_itinerary(itinerary, make_grid(BOOK), measurer).pages)
    assert pages > 2
    laid = lay_itinerary(matter(BOOK, itinerary, pages, measurer))
    assert judge_pages(make_grid(BOOK), laid.pages) == ()
    shown = " ".join(all_words(list(page.frames)) for page in laid.pages)
    assert shown.count("word") == 3 * 4000


def test_a_name_that_the_fonts_lack_is_a_finding() -> None:
    typesetter = Typesetter()
    itinerary = many_days(2, "Thanh Hóa, Reykjavík, Kraków, Ústí; but \N{TIBETAN LETTER KA}")
    laid = lay_itinerary(matter(BOOK, itinerary, 1, typesetter))
    findings = [
        f for drawing in draw(BOOK, laid.pages) for f in typesetter.page_pdf(drawing).findings
    ]
    assert {f.rule for f in findings} == {"glyphs"}
    assert all("\N{TIBETAN LETTER KA}" in f.message for f in findings)


@pytest.mark.parametrize("trim", [Size(210, 297), Size(148, 210), Size(297, 210), Size(105, 148)])
def test_in_real_type_it_fits_every_page_size(trim: Size) -> None:
    book = replace(BOOK, trim=trim)
    typesetter = Typesetter()
    itinerary = many_days(12, "Llanfairpwllgwyngyll, Þingvellir and Donaudampfschifffahrt")
    pages = len(set_itinerary(itinerary, make_grid(book), typesetter).pages)
    laid = lay_itinerary(matter(book, itinerary, pages, typesetter))
    assert judge_pages(make_grid(book), laid.pages) == ()
    for drawing in draw(book, laid.pages):
        assert typesetter.page_pdf(drawing).findings == ()
