"""The first page of a day that has a text: its date in the outer margin, beside a hairline."""

from __future__ import annotations

from dataclasses import replace

from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.drawing.text import Align
from wayfold.layout.grid import CAPITAL_HEIGHT, HAIRLINE
from wayfold.layout.matter import Laid, Matter, on_recto
from wayfold.layout.model import PageLayout, RuleFrame, TextFrame

TEXT_TO_RULE = 5.0
RULE_TO_DATE = 3.5


def open_day(matter: Matter, laid: Laid) -> Laid:
    """Put the day's date beside its text; where the margin is too narrow, nothing.

    Its lines stand level with the first lines of the text; the hairline is as high as the text.
    """
    if not matter.block.day or not laid.pages or not laid.pages[0].frames:
        return laid
    first, *rest = laid.pages
    return replace(laid, pages=(_put_date(matter, first), *rest))


def _put_date(matter: Matter, page: PageLayout) -> PageLayout:
    date = f"{matter.block.day:%Y-%m-%d}"
    paragraphs = matter.words.get(f"day-opener:{date}")
    text = next((f for f in page.frames if isinstance(f, TextFrame)), None)
    if not paragraphs or text is None:
        return page
    recto, box = on_recto(page.number), text.box
    outer = matter.grid.outer_x(recto)
    aside = TEXT_TO_RULE + RULE_TO_DATE
    width = outer - box.right - aside if recto else box.x - aside - outer
    style = text.paragraphs[0].style
    lined = tuple(
        replace(
            p,
            style=replace(
                p.style,
                align=Align.LEFT if recto else Align.RIGHT,
                leading_pt=style.leading_pt,
            ),
        )
        for p in paragraphs
    )
    one_line_each = len(lined) * mm_from_pt(style.leading_pt)
    if width <= 0 or matter.height(lined, width) > one_line_each + HAIRLINE:
        return page
    dated = lined[0].style
    y = box.y + mm_from_pt(style.first_baseline_pt - dated.first_baseline_pt)
    x = box.right + aside if recto else outer
    frame = matter.set_text(f"day:{date}", lined, x, y, width)
    top = box.y + mm_from_pt(style.first_baseline_pt - CAPITAL_HEIGHT * style.size_pt)
    bottom = box.bottom - mm_from_pt(style.size_pt / 4)
    at = box.right + TEXT_TO_RULE if recto else box.x - TEXT_TO_RULE
    rule = RuleFrame(Rect(at, top, 0.0, bottom - top), HAIRLINE, matter.book.style.quiet_ink.hex)
    return replace(page, frames=(*page.frames, rule, frame))
