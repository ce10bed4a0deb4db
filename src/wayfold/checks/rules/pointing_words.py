"""A text points to a picture, a map or a page where there is none.

Words like "left" mostly tell of the place told of, not of the page: only what plainly points is
read, in brackets ("(left)"), before a colon ("Above: …"), or beside a picture, a map or a page.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Iterator
from functools import lru_cache

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.checks.subject import Subject, show_box
from wayfold.checks.writings import Role, list_writings, quote
from wayfold.layout.model import DrawnFrame, PageLayout, PictureFrame, TextFrame
from wayfold.plan.paper import is_recto
from wayfold.words.terms import Term, say

RULE = "pointing-words"
TOUCH = 1.0
"""Pictures so far over each other (mm) still stand side by side."""


class Way(enum.Enum):
    """Where a word points."""

    ABOVE = enum.auto()
    BELOW = enum.auto()
    LEFT = enum.auto()
    RIGHT = enum.auto()
    OPPOSITE = enum.auto()
    OVERLEAF = enum.auto()


_TERMS = {
    Way.ABOVE: Term.ABOVE, Way.BELOW: Term.BELOW, Way.LEFT: Term.LEFT, Way.RIGHT: Term.RIGHT,
    Way.OPPOSITE: Term.OPPOSITE, Way.OVERLEAF: Term.OVERLEAF,
}  # fmt: skip
"""What the book itself says before captions."""
_MORE: dict[str, dict[Way, str]] = {
    "en": {
        Way.ABOVE: "above", Way.BELOW: "below", Way.LEFT: "on the left",
        Way.RIGHT: "on the right", Way.OPPOSITE: "on the facing page",
        Way.OVERLEAF: "on the next page",
    },
    "de": {Way.OPPOSITE: "nebenstehend", Way.OVERLEAF: "auf der nächsten Seite"},
    "fr": {
        Way.ABOVE: "ci-dessus", Way.BELOW: "ci-dessous", Way.OPPOSITE: "ci-contre",
        Way.OVERLEAF: "page suivante",
    },
    "it": {
        Way.ABOVE: "qui sopra", Way.BELOW: "qui sotto", Way.OPPOSITE: "pagina a fianco",
        Way.OVERLEAF: "pagina seguente",
    },
    "es": {
        Way.LEFT: "a la izquierda", Way.RIGHT: "a la derecha", Way.OPPOSITE: "página de al lado",
        Way.OVERLEAF: "página siguiente",
    },
}  # fmt: skip
_THINGS = {
    "en": "picture|photograph|photo|map", "de": "Bild|Foto|Fotografie|Karte",
    "fr": "image|photo|photographie|carte", "it": "immagine|foto|fotografia|cartina",
    "es": "imagen|foto|fotografía|mapa",
}  # fmt: skip
_PAGE = re.compile(r"\b(?:page|p\.|Seite|S\.|pagina|pag\.|página|pág\.)\s(\d{1,3})\b")


def find_vain_pointers(subject: Subject) -> Iterator[Finding]:
    """Name words that point to nothing, and page numbers of pages that bear nothing."""
    pages = {page.number: page for page in subject.pages}
    places = _find_places(subject)
    for writing in list_writings(subject) if pages else ():
        if writing.role not in (Role.TEXT, Role.CAPTION):
            continue
        for match in _PAGE.finditer(writing.text):
            named = pages.get(int(match[1]))
            if named is None or not named.frames:
                yield _tell(
                    writing.where,
                    writing.what,
                    match[0],
                    "that page is not there, or bears nothing",
                )
        homes = places.get(f"caption:{writing.photo}" if writing.photo else writing.where, [])
        for word, way in find_pointers(writing.text, subject.book.language):
            if homes and not any(_sees(subject, pages, n, box, way) for n, box in homes):
                yield _tell(writing.where, writing.what, word, "nothing lies there")


def find_pointers(text: str, language: str) -> Iterator[tuple[str, Way]]:
    """Give the words of a text that point on the page, and where to."""
    for way, pattern in _patterns(language.replace("_", "-").split("-")[0].lower()).items():
        for match in pattern.finditer(text):
            yield match[0].strip(" (:"), way


@lru_cache(maxsize=8)
def _patterns(key: str) -> dict[Way, re.Pattern[str]]:
    key = key if key in _MORE else "en"
    patterns = {}
    for way, term in _TERMS.items():
        words = "|".join(filter(None, (re.escape(say(term, key)), _MORE[key].get(way))))
        patterns[way] = re.compile(
            rf"\((?:{words})\b|^(?:{words})\s?:|\b(?:{_THINGS[key]})s?\s(?:{words})\b",
            re.IGNORECASE,
        )
    return patterns


def _find_places(subject: Subject) -> dict[str, list[tuple[int, Rect]]]:
    """Give pages and boxes of captions, by their keys, and of texts, by their files."""
    files = {f"text:{b.id}": f"texts/{b.text}.md" for b in subject.story.blocks
             if b.text} if subject.story else {}  # fmt: skip
    groups = {f"captions:{b.id}": b.photos for b in subject.story.blocks} if subject.story else {}
    found: dict[str, list[tuple[int, Rect]]] = {}
    for page in subject.pages:
        for frame in page.frames:
            if isinstance(frame, TextFrame):
                key = frame.key.partition("#")[0]
                names = [f"caption:{p}" for p in groups.get(key, ())] or [
                    files.get(key, key if key.startswith("caption:") else f"texts/{key}.md")
                ]
                for name in names:
                    found.setdefault(name, []).append((page.number, frame.box))
    return found


def _sees(subject: Subject, pages: dict[int, PageLayout], number: int, box: Rect, way: Way) -> bool:
    """Whether there is a picture or a map where a text in ``box`` of a page points to."""
    facing = number - 1 if is_recto(number) else number + 1
    behind = number + 1 if is_recto(number) else number - 1
    here, beside = (_list_shown(subject, pages.get(n)) for n in (number, facing))
    match way:
        case Way.ABOVE:
            return any(shown.center.y < box.center.y for shown in here)
        case Way.BELOW:
            return any(shown.center.y > box.center.y for shown in here)
        case Way.OPPOSITE:
            return bool(beside)
        case Way.OVERLEAF:
            # The next opening is overleaf to a reader, too.
            after = number + 2 if is_recto(number) else number + 3
            return any(_list_shown(subject, pages.get(n)) for n in (behind, number + 1, after))
        case Way.LEFT | Way.RIGHT:
            side = subject.page.width * (1 if facing > number else -1)
            spread = [*here, *(shown.moved(side, 0.0) for shown in beside)]
            places = [*spread, box]
            if way is Way.LEFT:
                return any(s.right <= p.x + TOUCH for s in spread for p in places)
            return any(s.x >= p.right - TOUCH for s in spread for p in places)


def _list_shown(subject: Subject, page: PageLayout | None) -> list[Rect]:
    shown: list[Rect] = []
    for frame in page.frames if page else ():
        if isinstance(frame, PictureFrame) and (box := show_box(frame, subject.page)):
            shown.append(box)
        elif isinstance(frame, DrawnFrame):
            shown.append(frame.clip)
    return shown


def _tell(where: str, what: str, word: str, why: str) -> Finding:
    return Finding(
        RULE,
        Severity.WARN,
        where,
        f"The {what} points with {quote(word)}, and {why}.",
        "Say it without the place on the page, or move the picture; pages move with the plan.",
    )
