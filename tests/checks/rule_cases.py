"""For every rule module a tiny book that passes and one that does not; other tests tell more.

``test_every_rule`` demands them of each module it finds. Where limits come from the rules say.
"""

from collections.abc import Callable
from dataclasses import replace

from tests.checks import test_rules_by_hand as by_hand
from tests.checks import test_rules_looks as looks
from tests.checks import test_rules_prose as prose
from tests.checks import test_washes as washed
from tests.checks.reading import write_book
from tests.checks.test_rules import (
    STYLE,
    chapters,
    contents,
    photo,
    picture,
    say,
    seen,
    subject,
)
from tests.checks.test_rules_words import journey
from wayfold.base.geometry import Affine, Rect, Size
from wayfold.book.materials import Grain, Paper
from wayfold.book.state import Book
from wayfold.checks.subject import Subject
from wayfold.drawing.colour import Colour
from wayfold.drawing.items import Drawing, Picture, Placed, Text
from wayfold.drawing.text import Paragraph, Run
from wayfold.layout.model import BookLayout, DrawnFrame, PageLayout, PictureFrame, TextFrame
from wayfold.photos.look import Face
from wayfold.photos.sets import PhotoSets
from wayfold.plan.model import Gathering, Plan, PlannedPage
from wayfold.press.ledger import trace_sheets
from wayfold.press.sheets import lay_sheets
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

WHOLE = picture("a", 20, 20, 160, 107)
TOWN = Rect(20.0, 20.0, 170.0, 200.0)


def look(*pages: tuple[PictureFrame | TextFrame, ...], **seen_as: float) -> Subject:
    """Pages whose picture a was looked at."""
    book = subject(*pages)
    return replace(book, photos={**book.photos, "a": replace(photo("a"), look=seen(**seen_as))})


def face(crop: Rect) -> Subject:
    """A picture with a face in its middle, of which ``crop`` is shown."""
    known = replace(seen(), faces=(Face(Rect(0.4, 0.4, 0.1, 0.1), 0.9),))
    book = subject((PictureFrame(Rect(40, 40, 120, 120), "a", crop),))
    return replace(book, photos={"a": replace(photo("a"), look=known)})


def text_at(x: float, y: float, colour: str | None = None) -> TextFrame:
    style = replace(STYLE, colour=Colour.of(colour)) if colour else STYLE
    return TextFrame(Rect(x, y, 100, 12), "text:1", (Paragraph((Run("words"),), style),))


def plan(*blocks: str | None) -> Subject:
    """Four pages whose two openers want right-hand ones."""
    right = (Alternative(1, start=Start.RECTO),)
    told = tuple(Block(f"opener{i}", BlockKind.OPENER, right, chapter=i) for i in range(2))
    pages = tuple(PlannedPage(n, name) for n, name in enumerate(blocks, start=1))
    planned = Plan(pages, (Gathering(1, 1, 1),), (("opener0", 0), ("opener1", 0)))
    return Subject(Book("A book"), story=Story(chapters((1, 3), (3, 5)), told), plan=planned)


def gather(sheets: int) -> Subject:
    thick = Book("A book", paper=Paper(caliper_um=240))
    return Subject(thick, plan=Plan((), (Gathering(1, sheets, 1),)))


def print_bare(sheet: Size) -> Subject:
    """Two pages of A5 side by side, without bleed, on ``sheet``."""
    paper = Paper(sheet=Size(297, 210))
    a5 = Book("A book", trim=Size(148, 210), bleed=0.0, paper=paper)
    sheets = lay_sheets((Gathering(1, 1, 1),), a5.trim, 0.0, paper, a5.printer, a5.binding)
    return Subject(replace(a5, paper=Paper(sheet=sheet)), sheets=sheets)


def draw_town(credit: str) -> Subject:
    """A map of a town on page 1, with a credit beneath it."""
    line = Text(Rect(0, 190, 120, 5), say(credit), "map: credit")
    drawing = Drawing("map", TOWN.size, 0.0, (line,))
    placed = Placed(drawing, Affine.shift(TOWN.x, TOWN.y), TOWN)
    block = Block("map:0", BlockKind.MAP, (Alternative(1),), 0)
    book = subject(story=Story(chapters((1, 3)), (block,)))
    layout = BookLayout((PageLayout(1, "map", (DrawnFrame(TOWN, "map:0", TOWN),)),))
    page = Drawing("page 1", Size(210, 297), 3.0, (placed,))
    return replace(book, layout=layout, drawings=(page,))


def print_first(content: str) -> Subject:
    """A book whose only sheet was printed when its picture's file was "was"."""
    base = looks.compose(4)
    shown = replace(base.drawings[0], items=(Picture(WHOLE.box, "a"), *base.drawings[0].items))
    drawings = (shown, *base.drawings[1:])
    about = base.book
    sheets = lay_sheets(
        (Gathering(1, 1, 1),), about.trim, 3.0, about.paper, about.printer, about.binding
    )
    was, now = (trace_sheets(sheets, drawings, {"a": known}) for known in ("was", content))
    return replace(base, photos={"a": photo("a")}, printed=was, inks=now)


def wash(box: Rect) -> Subject:
    frame = washed.text(washed.say(replace(washed.BODY, size_pt=8.0)))
    layout = BookLayout((PageLayout(1, "text", (frame,)),))
    return Subject(Book("A book"), layout=layout, washes=(washed.wash(1, box),))


BLANK: tuple[PictureFrame, ...] = ()
PAIRS = (looks.pair(), BLANK, looks.pair(), BLANK, looks.pair(), BLANK)
THREE = write_book(captions={"a": "One", "b": "Two", "c": "Three"})  # pages 4, 5 and 6
Case = tuple[Callable[[], Subject], Callable[[], Subject]]

CASES: dict[str, Case] = {
    "alike_side_by_side": (
        lambda: replace(THREE, sets=PhotoSets(alike=(("a", "c"),))),
        lambda: replace(THREE, sets=PhotoSets(alike=(("a", "b"),))),
    ),
    "almost_aligned": (
        lambda: subject((picture("a", 20, 20, 80, 60), picture("b", 104, 20, 80, 60))),
        lambda: subject((picture("a", 20, 20, 80, 60), picture("b", 104, 20.6, 80, 80))),
    ),
    "chapter_colours": (
        lambda: looks.tell("#7a4a32", "#2f5680"),
        lambda: looks.tell("#7a4a32", "#2f5680", "#7a4b32"),
    ),
    "chapter_dates": (
        lambda: Subject(Book("B"), story=Story(chapters((1, 3), (3, 5)), ())),
        lambda: Subject(Book("B"), story=Story(chapters((3, 5), (1, 3)), ())),
    ),
    "contents_pages": (lambda: contents(3, 5), lambda: contents(3, 7)),
    "credit_lines": (
        lambda: draw_town("© OpenStreetMap contributors, openstreetmap.org/copyright"),
        lambda: draw_town("Streets by many hands"),
    ),
    "date_style": (
        lambda: write_book({"a": "We came on 12 May."}),
        lambda: write_book({"a": "We came on May 12th."}),
    ),
    "doubled_captions": (
        lambda: write_book(captions={"a": "The quay at noon", "b": "The quay at night"}),
        lambda: write_book(captions={"a": "The quay at noon", "b": "The quay at noon"}),
    ),
    "faces_kept": (
        lambda: face(Rect(0.2, 0.2, 0.6, 0.6)),
        lambda: face(Rect(0.45, 0.0, 0.5, 0.5)),
    ),
    "gathering_thickness": (lambda: gather(3), lambda: gather(4)),
    "grain": (
        lambda: Subject(Book("B", paper=Paper(grain=Grain.SHORT))),
        lambda: Subject(Book("B", paper=Paper(grain=Grain.LONG))),
    ),
    "graininess": (
        lambda: look((picture("a", 0, 0, 250, 167),), noise=0.5),
        lambda: look((picture("a", 0, 0, 250, 167),), noise=6.0),
    ),
    "heading_levels": (
        lambda: write_book({"a": "# One\n\nWords.\n\n# Two\n\nWords."}),
        lambda: write_book({"a": "# One\n\nWords.\n\n# Two\n\nWords.\n\n### Three\n\nWords."}),
    ),
    "missing_photograph": (
        lambda: subject((WHOLE,)),
        lambda: subject((WHOLE,), missing=("a",)),
    ),
    "numbers_and_units": (
        lambda: write_book({"a": "We walked 12 km."}),
        lambda: write_book({"a": "We walked 12km."}),
    ),
    "overlapping_pictures": (
        lambda: subject((picture("a", 20, 20, 80, 60), picture("b", 100, 20, 80, 60))),
        lambda: subject((picture("a", 20, 20, 80, 60), picture("b", 95, 20, 80, 60))),
    ),
    "own_crops": (
        lambda: by_hand.lay(Rect(10, 10, 80, 80)),
        lambda: by_hand.lay(Rect(10, 10, 40, 80), crop=Rect(0.5, 0.0, 0.5, 1.0)),
    ),
    "page_numbers": (
        lambda: looks.compose(),
        lambda: looks.change(looks.compose(), 3, dy=-4.0),
    ),
    "picture_edges": (
        lambda: by_hand.lay(Rect(-3, -3, 106, 106)),
        lambda: by_hand.lay(Rect(10, -1, 60, 60)),
    ),
    "place_spelling": (
        lambda: write_book({"a": "We left Zürich."}, journey=journey("Zürich")),
        lambda: write_book({"a": "We left Zurich."}, journey=journey("Zürich")),
    ),
    "plan_kept": (
        lambda: plan("opener0", None, "opener1", None),
        lambda: plan("opener0", None, None, "opener1"),
    ),
    "pointing_words": (
        lambda: prose.point("The quay at noon (above)"),
        lambda: prose.point("The quay at noon (below)"),
    ),
    "printed_pictures": (lambda: print_first("was"), lambda: print_first("other")),
    "quotes_and_dashes": (
        lambda: write_book({"a": "It rained – again – and again."}),
        lambda: write_book({"a": "It rained – again – and again.", "b": "Fog—and then sun."}),
    ),
    "resolution": (
        lambda: subject((WHOLE,)),
        lambda: subject((replace(WHOLE, crop=Rect(0.4, 0.4, 0.2, 0.2)),)),
    ),
    "slivers": (
        lambda: subject((picture("a", 20, 20, 25, 100),)),
        lambda: subject((picture("a", 20, 20, 20, 100),)),
    ),
    # WCAG 2.2, 1.4.3: #767676 is the lightest grey of 4.5 to 1 on white (WebAIM's tables).
    "text_contrast": (
        lambda: subject((text_at(20, 20, "#767676"),)),
        lambda: subject((text_at(20, 20, "#777777"),)),
    ),
    "text_near_edge": (
        lambda: subject((text_at(20, 20),)),
        lambda: subject((text_at(20, 2),)),
    ),
    "text_on_picture": (
        lambda: subject((WHOLE, text_at(20, 130))),
        lambda: subject((WHOLE, text_at(20, 120))),
    ),
    "type_sizes": (
        lambda: looks.lay(looks.text(looks.BODY), looks.text(looks.BODY)),
        lambda: looks.lay(looks.text(looks.BODY), looks.text(replace(looks.BODY, size_pt=10.2))),
    ),
    "uneven_borders": (
        lambda: looks.lay(*PAIRS, looks.pair(gap=8.0)),
        lambda: looks.lay(*PAIRS, looks.pair(gap=4.4)),
    ),
    "used_twice": (
        lambda: subject((WHOLE,), (picture("b", 20, 20, 160, 107),)),
        lambda: subject((WHOLE,), (WHOLE,)),
    ),
    "washes": (
        lambda: wash(Rect(20.0, 200.0, 120.0, 60.0)),
        lambda: wash(Rect(20.0, 60.0, 120.0, 60.0)),
    ),
    "white_edges": (
        lambda: print_bare(Size(329, 483)),
        lambda: print_bare(Size(297, 210)),
    ),
}
