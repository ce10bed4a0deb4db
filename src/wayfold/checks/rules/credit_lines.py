"""A map or a picture lacks the credit that the licence of what it was made from asks for.

Open Database License 1.0, 4.3: a work produced from the data bears a notice; which one is said in
the OpenStreetMap Foundation's Attribution Guidelines. Creative Commons Attribution 4.0, 3(a)(1):
the creator is named.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.checks.subject import Subject, list_placements
from wayfold.drawing.items import Drawing, Item, Placed, Text
from wayfold.layout.model import DrawnFrame
from wayfold.photos.model import Credit
from wayfold.story.model import BlockKind
from wayfold.words.texts import COLOPHON

RULE = "credit-lines"
NOTICE = "© OpenStreetMap contributors"
_ATTRIBUTION = re.compile(
    r"\bCC[ -]BY\b|creative\s?commons\.org/licenses/by|creative commons attribution", re.IGNORECASE
)


def find_missing_credits(subject: Subject) -> Iterator[Finding]:
    """Name town maps that bear no notice, and pictures whose creator the colophon does not name."""
    yield from _find_bare_maps(subject)
    yield from _find_unnamed(subject)


def _find_bare_maps(subject: Subject) -> Iterator[Finding]:
    towns = {
        b.id for b in (subject.story.blocks if subject.story else ()) if b.kind is BlockKind.MAP
    }
    said: dict[str, tuple[int, list[str]]] = {}
    for page in subject.pages:
        for frame in page.frames:
            drawn = subject.drawings[page.number - 1 : page.number]
            if isinstance(frame, DrawnFrame) and frame.key in towns and drawn:
                # A map across the fold bears its notice on one of its pages.
                said.setdefault(frame.key, (page.number, []))[1].extend(_read(drawn[0]))
    for number, words in said.values():
        if _plain(NOTICE) not in _plain(" ".join(words)):
            yield Finding(
                RULE,
                Severity.BLOCK,
                f"page {number}",
                f"The map bears no “{NOTICE}”, which the licence of its streets asks for.",
                "Make the book again; if it stays so, this is a fault: please report it.",
            )


def _read(drawing: Drawing) -> Iterator[str]:
    """Give what the drawings placed on a page say there, where it is seen."""
    for item in drawing.items:
        if isinstance(item, Placed):
            seen = item.clip or drawing.trim_box
            yield from _read_within(item.drawing.items, item, seen)


def _read_within(items: tuple[Item, ...], placed: Placed, seen: Rect) -> Iterator[str]:
    for item in items:
        if isinstance(item, Text) and seen.contains(placed.transform.apply_rect(item.box), 1.0):
            yield from (paragraph.plain for paragraph in item.paragraphs)


def _find_unnamed(subject: Subject) -> Iterator[Finding]:
    said = subject.words.get(COLOPHON) if subject.words is not None else ()
    colophon = _plain(" ".join(paragraph.plain for paragraph in said))
    told: set[Credit] = set()
    for placed in list_placements(subject):
        photo = subject.photos.get(placed.photo)
        credit = photo.credit if photo is not None else None
        if credit is None or credit in told or not _ATTRIBUTION.search(credit.rights):
            continue
        told.add(credit)
        if credit.creator and _plain(credit.creator) not in colophon:
            written = COLOPHON in subject.book.texts
            yield Finding(
                RULE,
                Severity.WARN,
                f"texts/{COLOPHON}.md" if written else COLOPHON,
                f"{subject.name_photo(placed.photo)} was made by {credit.creator} under "
                f"“{credit.rights}”, and the colophon does not say so.",
                "Name maker and licence in the colophon, or leave the picture out.",
                about=placed.photo,
            )


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()
