"""The colophon: of what, with what and by whom the book was made, as far as it is known."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence

from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph, Run
from wayfold.photos.model import Credit
from wayfold.words.dates import write_date
from wayfold.words.punctuation import set_punctuation
from wayfold.words.styles import style_colophon, style_folio
from wayfold.words.terms import Term, say

NO_BREAK = "\N{NO-BREAK SPACE}"
_EMPTY_RIGHTS = re.compile(
    r"©|\(c\)|copyright|all rights reserved|by\b|\d{4}\s*[-–]\s*\d{4}|\b\d{4}\b", re.IGNORECASE
)
"""What a notice of rights says besides the name without adding to it."""


def write_colophon(
    book: Book,
    families: Sequence[str],
    licences: Mapping[str, str],
    credits: Iterable[Credit],
    *,
    with_leaves: bool,
) -> tuple[Paragraph, ...]:
    """Give the colophon of a book for which nobody wrote one, a paragraph each thing.

    ``families`` are those the book is set in, ``licences`` what they are under. ``credits`` are
    those of its pictures, ``with_leaves`` whether translucent leaves are bound in.
    """
    lines = [
        *_tell_makers(book, list_credits(book, credits)),
        _say(book, Term.SET_IN, fonts=_tell_fonts(families, licences)),
        _say(book, Term.PRINTED_ON, paper=_name_paper(book.paper.name, book.paper.grammage_gsm)),
    ]
    if with_leaves:
        leaf = book.translucent
        name = _name_paper(leaf.name, leaf.grammage_gsm)
        lines.append(_say(book, Term.LEAVES_ON, paper=name))
    if book.printer.name.strip():
        lines.append(_say(book, Term.PRINTER, printer=book.printer.name.strip()))
    lines.append(_say(book, Term.BOUND))
    if book.finished:
        date = write_date(book.finished, book.language)
        lines.append(_say(book, Term.FINISHED, date=date))
    return tuple(Paragraph((Run(line),), style_colophon(book)) for line in lines)


def draft_colophon(book: Book, credits: Iterable[Credit]) -> tuple[Paragraph, ...]:
    """Give the longest colophon the book may come to, while its pages are not known."""
    families = tuple(dict.fromkeys((book.style.serif, book.style.sans)))
    licences = dict.fromkeys(families, "SIL Open Font License 1.1")
    return write_colophon(book, families, licences, credits, with_leaves=True)


def list_families(
    book: Book, words: Mapping[str, tuple[Paragraph, ...]], *, with_maps: bool
) -> tuple[str, ...]:
    """Give the font families that words, page numbers and maps are set in, the text's first."""
    styles = [p.style for paragraphs in words.values() for p in paragraphs]
    used = {style.family for style in styles} | {style_folio(book).family}
    used |= {book.style.sans} if with_maps else set()
    return tuple(sorted(used, key=lambda family: (family != book.style.serif, family)))


def list_credits(book: Book, credits: Iterable[Credit]) -> dict[str, list[str]]:
    """Give who made the pictures, in alphabetical order, with the rights that say more than that.

    Names are told apart without regard to capitals; a notice without a name stands for itself.
    """
    names: dict[str, str] = {}
    rights: dict[str, list[str]] = {}
    for credit in credits:
        creator, notice = (
            set_punctuation(text, book.language) for text in (credit.creator, credit.rights)
        )
        name = names.setdefault((creator or notice).casefold(), creator or notice)
        told = rights.setdefault(name, [])
        if creator and _says_more(notice, creator) and notice not in told:
            told.append(notice)
    return {name: rights[name] for name in sorted(rights, key=str.casefold)}


def _tell_makers(book: Book, made: Mapping[str, Sequence[str]]) -> list[str]:
    author = set_punctuation(book.author, book.language)
    others = [name for name in made if name.casefold() != author.casefold()]
    if author and not others and not any(made.values()):
        return [_say(book, Term.TEXT_AND_PHOTOGRAPHS, names=author)]
    lines = [_say(book, Term.TEXT, names=author)] if author else []
    if made:
        told = "; ".join(", ".join((name, *rights)) for name, rights in made.items())
        lines.append(_say(book, Term.PHOTOGRAPHS, names=told))
    return lines


def _says_more(notice: str, creator: str) -> bool:
    rest = _EMPTY_RIGHTS.sub(" ", re.sub(re.escape(creator), " ", notice, flags=re.IGNORECASE))
    return any(sign.isalnum() for sign in rest)


def _tell_fonts(families: Sequence[str], licences: Mapping[str, str]) -> str:
    under: dict[str, list[str]] = {}
    for family in families:
        under.setdefault(licences.get(family, ""), []).append(family)
    return ", ".join(
        " & ".join(named) + (f" ({licence})" if licence else "") for licence, named in under.items()
    )


def _name_paper(name: str, grammage_gsm: float) -> str:
    return f"{name}, {grammage_gsm:g}{NO_BREAK}g/m²"


def _say(book: Book, term: Term, **parts: str) -> str:
    # A name that ends with a stop needs no second one.
    return re.sub(r"\.\.$", ".", say(term, book.language).format(**parts))
