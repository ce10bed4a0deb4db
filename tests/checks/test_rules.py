"""Every rule of the book's checks, with a tiny case that passes and one that does not."""

from dataclasses import replace
from datetime import date

import pytest

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import Arranging
from wayfold.book.materials import Grain, Paper, Surface
from wayfold.book.state import Book
from wayfold.book.style import Style
from wayfold.checks.rules import check_book
from wayfold.checks.rules.almost_aligned import find_almost_aligned
from wayfold.checks.rules.chapter_dates import find_chapters_out_of_order
from wayfold.checks.rules.contents_pages import find_wrong_contents
from wayfold.checks.rules.gathering_thickness import find_thick_gatherings
from wayfold.checks.rules.grain import find_wrong_grain
from wayfold.checks.rules.graininess import find_grainy_pictures
from wayfold.checks.rules.missing_photograph import find_missing_photographs
from wayfold.checks.rules.overlapping_pictures import find_overlapping_pictures
from wayfold.checks.rules.plan_kept import find_broken_plans
from wayfold.checks.rules.resolution import find_coarse_pictures
from wayfold.checks.rules.slivers import find_slivers
from wayfold.checks.rules.text_near_edge import find_text_near_edges
from wayfold.checks.rules.text_on_picture import find_text_on_pictures
from wayfold.checks.rules.used_twice import find_photographs_used_twice
from wayfold.checks.rules.white_edges import find_white_edges
from wayfold.checks.subject import Subject, list_placements
from wayfold.drawing.text import Paragraph, Run, TextStyle
from wayfold.layout.model import BookLayout, Frame, PageLayout, PictureFrame, TextFrame
from wayfold.photos.look import Look, Salience
from wayfold.photos.model import Photo, SizePx
from wayfold.plan.model import Gathering, Plan, PlannedPage
from wayfold.press.sheets import lay_sheets
from wayfold.story.model import Alternative, Block, BlockKind, Chapter, Start, Story

STYLE = TextStyle("EB Garamond", 10.5, 15, Style().ink)


def say(text: str) -> tuple[Paragraph, ...]:
    return (Paragraph((Run(text),), STYLE),)


def photo(name: str, width_px: int = 6000, height_px: int = 4000) -> Photo:
    return Photo(name, name, f"/photographs/{name}.jpg", SizePx(width_px, height_px))


def subject(*pages: tuple[Frame, ...], first: int = 1, **more: object) -> Subject:
    """A book with these pages, and photographs a to e."""
    layouts = tuple(PageLayout(first + i, "group", frames) for i, frames in enumerate(pages))
    base = Subject(Book("A book"), {n: photo(n) for n in "abcde"}, layout=BookLayout(layouts))
    return replace(base, **more)  # type: ignore[arg-type]


def picture(name: str, x: float, y: float, width: float, height: float) -> PictureFrame:
    return PictureFrame(Rect(x, y, width, height), name)


def only(findings: list[Finding]) -> Finding:
    assert len(findings) == 1, findings
    assert findings[0].remedy
    return findings[0]


@pytest.mark.parametrize(
    ("width_px", "severity"),
    # 4000, 4032 and 5472 px over 420 mm are 242, 244 and 331 pixels an inch; A4 at 240 ppi is
    # 1984 px wide, at 180 ppi 1488 (arithmetic, pixel tables of photographic printing).
    [(4000, None), (3900, Severity.WARN), (2500, Severity.WARN), (2400, Severity.BLOCK)],
)
def test_resolution_over_the_spread(width_px: int, severity: Severity | None) -> None:
    book = subject((picture("a", 0, 0, 420, 280),), first=2)
    book = replace(book, photos={"a": photo("a", width_px, width_px)})
    found = list(find_coarse_pictures(book))
    if severity is None:
        assert found == []
    else:
        assert only(found).severity is severity
        assert found[0].where == "page 2" and "a.jpg" in found[0].message


def test_resolution_counts_the_crop() -> None:
    whole = picture("a", 20, 20, 160, 107)
    assert list(find_coarse_pictures(subject((whole,)))) == []
    part = replace(whole, crop=Rect(0.4, 0.4, 0.2, 0.2))
    # A fifth of 6000 px over 160 mm: 1200 / 6.299 in = 190.5 ppi.
    assert "190 pixels an inch" in only(list(find_coarse_pictures(subject((part,))))).message


def seen(edge_px: float = 1.4, noise: float = 0.0) -> Look:
    return Look((), Salience(1, 1, (1.0,)), (), edge_px, noise, 3000, 0.0, 50.0)


def test_resolution_is_that_of_the_paper_and_the_eye() -> None:
    # 1600 px over 200 mm: 203 ppi. Uncoated paper bears 200; from half a metre 168 do.
    book = subject((picture("a", 0, 0, 200, 133),))
    book = replace(book, photos={"a": photo("a", 1600, 1067)})
    assert only(list(find_coarse_pictures(book))).severity is Severity.WARN
    bare = replace(book.book, paper=Paper(surface=Surface.UNCOATED))
    assert list(find_coarse_pictures(replace(book, book=bare))) == []
    afar = replace(book.book, arranging=Arranging(reading_distance=500.0))
    assert list(find_coarse_pictures(replace(book, book=afar))) == []


@pytest.mark.parametrize(("edge_px", "longest"), [(1.4, None), (7.0, None), (12.0, 178)])
def test_what_is_not_sharp_is_named_and_never_blocks(edge_px: float, longest: int | None) -> None:
    # 6000 px with edges of 12 px are worth 700, and 700 at 100 ppi are 178 mm.
    book = subject((picture("a", 0, 0, 192, 128),))
    book = replace(book, photos={"a": replace(photo("a"), look=seen(edge_px))})
    found = list(find_coarse_pictures(book))
    if longest is None:
        assert found == []
    else:
        assert only(found).severity is Severity.WARN
        assert f"no longer than {longest} mm" in found[0].remedy
        assert "12.0 pixels wide" in found[0].message


def test_softness_of_small_pictures_and_among_others_is_not_named() -> None:
    soft = {n: replace(photo(n), look=seen(12.0)) for n in "ab"}
    small = subject((picture("a", 0, 0, 120, 80),))
    assert list(find_coarse_pictures(replace(small, photos=soft))) == []
    two = subject((picture("a", 0, 0, 192, 128), picture("b", 0, 140, 60, 40)))
    assert list(find_coarse_pictures(replace(two, photos=soft))) == []


@pytest.mark.parametrize(
    ("noise", "severity"),
    [(0.5, None), (1.5, None), (3.6, Severity.NOTE), (6.0, Severity.WARN)],
)
def test_grain_is_named_by_how_it_is_seen(noise: float, severity: Severity | None) -> None:
    # 3000 px over 250 mm are 305 ppi: 0.44 of white noise is seen (as in test_largest.py).
    book = subject((picture("a", 0, 0, 250, 167),))
    book = replace(book, photos={"a": replace(photo("a"), look=seen(noise=noise))})
    found = list(find_grainy_pictures(book))
    assert [f.severity for f in found] == ([] if severity is None else [severity])
    larger = subject((picture("a", 0, 0, 420, 280),))
    larger = replace(larger, photos=book.photos)
    assert len(list(find_grainy_pictures(larger))) >= len(found)


def test_text_keeps_from_knife_and_fold() -> None:
    good = TextFrame(Rect(20, 20, 100, 50), "text:1", say("words"))
    assert list(find_text_near_edges(subject((good,)))) == []
    for box, edge in (
        (Rect(20, 2, 100, 50), "head"),
        (Rect(20, 244, 100, 50), "foot"),
        (Rect(106, 20, 100, 50), "fore edge"),
        (Rect(8, 20, 100, 50), "fold"),
    ):
        found = only(list(find_text_near_edges(subject((replace(good, box=box),)))))
        assert edge in found.message and found.severity is Severity.WARN


def test_the_fold_lies_right_on_a_verso() -> None:
    near_right = TextFrame(Rect(95, 20, 107, 50), "text:1", say("words"))
    assert "fold" in only(list(find_text_near_edges(subject((near_right,), first=2)))).message
    assert list(find_text_near_edges(subject((near_right,), first=1))) == []


def test_text_over_the_edge_blocks() -> None:
    frame = TextFrame(Rect(20, 260, 100, 50), "text:1", say("words"))
    found = only(list(find_text_near_edges(subject((frame,)))))
    assert found.severity is Severity.BLOCK and "13.0 mm over the foot" in found.message


def test_what_layout_has_said_is_not_said_again() -> None:
    frame = TextFrame(Rect(20, 260, 100, 50), "text:1", say("words"))
    told = Finding("layout.off-the-page", Severity.BLOCK, "page 1", "the text is too long")
    assert check_book(subject((frame,), earlier=(told,)))[0] == told
    assert list(find_text_near_edges(subject((frame,), earlier=(told,)))) == []


def test_text_on_a_picture() -> None:
    below = TextFrame(Rect(20, 130, 100, 12), "caption:a", say("words"))
    frame = picture("a", 20, 20, 160, 107)
    assert list(find_text_on_pictures(subject((frame, below)))) == []
    over = replace(below, box=Rect(20, 120, 100, 12))
    assert "7.0 mm" in only(list(find_text_on_pictures(subject((frame, over))))).message


def test_overlapping_pictures() -> None:
    one, other = picture("a", 20, 20, 80, 60), picture("b", 100, 20, 80, 60)
    assert list(find_overlapping_pictures(subject((one, other)))) == []
    found = only(list(find_overlapping_pictures(subject((one, picture("b", 95, 20, 80, 60))))))
    assert "5.0 x 60.0 mm" in found.message and found.severity is Severity.BLOCK


def test_a_picture_across_the_fold_is_one_placement() -> None:
    box = Rect(-3, -3, 426, 303)
    left = PictureFrame(box, "a", clip=Rect(-3, -3, 213, 303))
    right = PictureFrame(box.moved(-210, 0), "a", clip=Rect(0, -3, 213, 303))
    book = subject((left,), (right,), first=2)
    assert [p.where for p in list_placements(book)] == ["pages 2 and 3"]
    assert list(find_photographs_used_twice(book)) == []


def test_a_photograph_used_twice() -> None:
    book = subject((picture("a", 20, 20, 100, 67),), (picture("a", 20, 40, 100, 67),))
    found = only(list(find_photographs_used_twice(book)))
    assert found.where == "pages 1 and 2" and "a.jpg" in found.message


def test_a_missing_photograph() -> None:
    book = subject((picture("a", 20, 20, 100, 67), picture("z", 20, 120, 100, 67)))
    assert "z" in only(list(find_missing_photographs(book))).message
    gone = replace(book, missing=("a",))
    assert len(list(find_missing_photographs(gone))) == 2
    assert list(find_missing_photographs(subject((picture("a", 20, 20, 100, 67),)))) == []


def test_slivers() -> None:
    assert list(find_slivers(subject((picture("a", 20, 20, 25, 100),)))) == []
    assert (
        "20 x 100 mm" in only(list(find_slivers(subject((picture("a", 20, 20, 20, 100),))))).message
    )


def test_a_panorama_is_no_sliver() -> None:
    book = subject((picture("a", 20, 20, 160, 20),))
    assert list(find_slivers(replace(book, photos={"a": photo("a", 12000, 1500)}))) == []
    assert len(list(find_slivers(book))) == 1


def test_edges_in_line_and_almost() -> None:
    one = picture("a", 20, 20, 80, 60)
    assert list(find_almost_aligned(subject((one, picture("b", 104, 20.03, 80, 60))))) == []
    assert list(find_almost_aligned(subject((one, picture("b", 104, 24, 80, 70))))) == []
    found = only(list(find_almost_aligned(subject((one, picture("b", 104, 20.6, 80, 80))))))
    assert "upper" in found.message and "0.60 mm" in found.message


def test_edges_are_compared_across_the_fold() -> None:
    left, right = (picture("a", 20, 20, 80, 60),), (picture("b", 20.5, 20.9, 80, 80),)
    found = only(list(find_almost_aligned(subject(left, right, first=2))))
    assert found.where == "pages 2 and 3" and "upper" in found.message
    assert list(find_almost_aligned(subject(left, right, first=1))) == []


def chapters(*days: tuple[int, int]) -> tuple[Chapter, ...]:
    return tuple(
        Chapter(f"Town {i}", "", "Land", date(2024, 5, a), date(2024, 5, b))
        for i, (a, b) in enumerate(days, start=1)
    )


def test_the_order_of_chapters() -> None:
    right = Subject(Book("A book"), story=Story(chapters((1, 3), (3, 5)), ()))
    assert list(find_chapters_out_of_order(right)) == []
    wrong = Subject(Book("A book"), story=Story(chapters((3, 5), (1, 3)), ()))
    assert "Town 2 begins on 1\xa0May 2024" in only(list(find_chapters_out_of_order(wrong))).message
    backwards = Subject(Book("A book"), story=Story(chapters((5, 3)), ()))
    assert "before it begins" in only(list(find_chapters_out_of_order(backwards))).message


def contents(*pages: int) -> Subject:
    one_page = (Alternative(1),)
    blocks = tuple(Block(f"opener{i}", BlockKind.OPENER, one_page, chapter=i) for i in range(2))
    plan = Plan(
        (
            PlannedPage(1, None),
            PlannedPage(2, None),
            PlannedPage(3, "opener0"),
            PlannedPage(4, None),
            PlannedPage(5, "opener1"),
            *(PlannedPage(n, None) for n in (6, 7, 8)),
        ),
        (Gathering(1, 2, 1),),
    )
    heading = say("Contents 2024")
    lines = tuple(
        Paragraph((Run(f"Town {i}"), Run(leader=True), Run(str(n))), STYLE)
        for i, n in enumerate(pages, start=1)
    )
    frame = TextFrame(Rect(30, 60, 120, 100), "contents", heading + lines)
    story = Story(chapters((1, 3), (3, 5)), blocks)
    return subject((frame,), story=story, plan=plan)


def test_the_numbers_in_the_contents() -> None:
    assert list(find_wrong_contents(contents(3, 5))) == []
    found = list(find_wrong_contents(contents(3, 7)))
    assert [f.severity for f in found] == [Severity.BLOCK, Severity.WARN]
    assert "page 7 for Town 2" in found[0].message
    assert "page 5 is not in the contents" in found[1].message


def test_thick_gatherings() -> None:
    plan = Plan((), (Gathering(1, 3, 1), Gathering(2, 4, 13)))
    book = Subject(Book("A book", paper=Paper(caliper_um=240)), plan=plan)
    # Closed, n sheets of t are 2 n t thick: 1.44 and 1.92 mm.
    found = only(list(find_thick_gatherings(book)))
    assert found.where == "gathering 2" and "1.92 mm" in found.message


@pytest.mark.parametrize(
    ("grain", "severity"),
    [(Grain.SHORT, None), (Grain.LONG, Severity.WARN), (Grain.UNKNOWN, Severity.NOTE)],
)
def test_grain_of_two_upright_pages_on_one_sheet(grain: Grain, severity: Severity | None) -> None:
    """The fold of two A4 pages on A3+ runs along the short side: the sheet must be short grain."""
    found = list(find_wrong_grain(Subject(Book("A book", paper=Paper(grain=grain)))))
    assert [f.severity for f in found] == ([severity] if severity else [])


def test_grain_on_an_upright_sheet() -> None:
    """Two narrow pages on an upright sheet fold along its long side."""
    paper = Paper(sheet=Size(210, 297), grain=Grain.LONG)
    book = Book("A book", trim=Size(90, 250), paper=paper)
    assert list(find_wrong_grain(Subject(book))) == []
    short = replace(book, paper=replace(paper, grain=Grain.SHORT))
    assert only(list(find_wrong_grain(Subject(short)))).severity is Severity.WARN


def test_a_book_of_which_nothing_is_made_yet() -> None:
    assert {f.rule for f in check_book(Subject(Book("A book")))} == {"grain"}


def test_every_finding_comes_once() -> None:
    told = Finding("reading", Severity.WARN, "b.jpg", "cut short", "Copy it again.")
    assert check_book(subject(earlier=(told, told)))[:1] == (told,)
    assert len(check_book(subject(earlier=(told, told)))) == 2


def test_a_plan_that_breaks_the_rules_of_paper() -> None:
    one_page = (Alternative(1, start=Start.RECTO),)
    blocks = tuple(Block(f"opener{i}", BlockKind.OPENER, one_page, chapter=i) for i in range(2))
    story = Story(chapters((1, 3), (3, 5)), blocks)
    names = ("opener0", None, "opener1", None)
    pages = tuple(PlannedPage(n, name) for n, name in enumerate(names, start=1))
    plan = Plan(pages, (Gathering(1, 1, 1),), (("opener0", 0), ("opener1", 0)))
    right = Subject(Book("A book"), story=story, plan=plan)
    assert list(find_broken_plans(right)) == []
    late = (pages[0], pages[1], PlannedPage(3, None), PlannedPage(4, "opener1"))
    wrong = replace(right, plan=replace(plan, pages=late))
    assert any(f.severity is Severity.BLOCK for f in find_broken_plans(wrong))


def test_edges_the_printer_cannot_reach() -> None:
    """A5 two-up fills A4 (ISO 216), and no usual inkjet prints to its edges."""
    a5 = Book("A book", trim=Size(148, 210), bleed=0.0, paper=Paper(sheet=Size(297, 210)))
    sheets = lay_sheets((Gathering(1, 1, 1),), a5.trim, 0.0, a5.paper, a5.printer, a5.binding)
    assert only(list(find_white_edges(Subject(a5, sheets=sheets)))).rule == "printable-area"
    roomy = replace(a5, paper=Paper())
    assert list(find_white_edges(Subject(roomy, sheets=sheets))) == []
