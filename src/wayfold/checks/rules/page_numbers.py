"""Page numbers stand in different places, name another page, or lie on something."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.units import mm_from_pt
from wayfold.checks.naming import name_text
from wayfold.checks.subject import Subject
from wayfold.drawing.items import Drawing, Item, Picture, Placed, Text
from wayfold.drawing.text import Align
from wayfold.plan.paper import is_recto

RULE = "page-numbers"
FOLIO = "folio"
"""What the keys of page numbers begin with."""
SLACK = 0.05
LETTER_EM = 0.55
"""About the width of a figure, in its size."""


@dataclass(frozen=True, slots=True)
class _Folio:
    page: int
    text: str
    outer: float
    """How far its outer end stands from the fore-edge."""
    foot: float
    box: Rect
    """Where its figures lie, not all of the box they are set in."""


def find_odd_folios(subject: Subject) -> Iterator[Finding]:
    """Name page numbers off their usual place, wrong ones, and those that cross something else."""
    folios = {
        number: folio
        for number, drawing in enumerate(subject.drawings, start=1)
        if (folio := _find_folio(number, drawing)) is not None
    }
    places = Counter((round(f.outer, 1), round(f.foot, 1)) for f in folios.values())
    for number, folio in folios.items():
        outer, foot = places.most_common(1)[0][0]
        if folio.text != str(number):
            yield _tell(number, f"The page is number {number} and says {folio.text}.")
        if max(abs(folio.outer - outer), abs(folio.foot - foot)) > SLACK + 0.05:
            yield _tell(
                number,
                f"The page number stands {folio.outer:.1f} mm from the fore-edge and "
                f"{folio.foot:.1f} mm from the foot; elsewhere {outer:.1f} and {foot:.1f} mm.",
            )
        for what in _list_crossed(subject, subject.drawings[number - 1], folio.box):
            yield _tell(number, f"The page number lies on {what}.")


def _find_folio(page: int, drawing: Drawing) -> _Folio | None:
    for item in drawing.items:
        if isinstance(item, Text) and item.key.partition(" ")[0] == FOLIO:
            text = "".join(p.plain for p in item.paragraphs)
            style = item.paragraphs[0].style
            width = min(item.box.width, len(text) * LETTER_EM * mm_from_pt(style.size_pt))
            right = style.align is Align.RIGHT
            x = item.box.right - width if right else item.box.x
            box = Rect(x, item.box.y, width, item.box.height)
            outer = drawing.size.width - box.right if is_recto(page) else box.x
            return _Folio(page, text, outer, drawing.size.height - box.bottom, box)
    return None


def _list_crossed(subject: Subject, drawing: Drawing, box: Rect) -> Iterator[str]:
    inside = box.grown(-SLACK)
    for item in drawing.items:
        shown, name = _where_of(subject, item)
        if shown is not None and shown.overlap(inside) is not None:
            yield name


def _where_of(subject: Subject, item: Item) -> tuple[Rect | None, str]:
    match item:
        case Picture():
            return item.box if item.clip is None else item.box.overlap(item.clip), "a picture"
        case Placed():
            return item.clip, "a map"
        case Text() if item.key.partition(" ")[0] != FOLIO:
            return item.box, f"the {name_text(subject, item.key)}"
        case _:
            return None, ""


def _tell(page: int, what: str) -> Finding:
    return Finding(
        RULE,
        Severity.WARN,
        f"page {page}",
        what,
        "Make the book again; if it stays so, leave more white at the foot of the page.",
    )
