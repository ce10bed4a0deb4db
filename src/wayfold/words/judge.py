"""What is to be said of the book's words as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from wayfold.base.findings import Finding, Severity
from wayfold.book.state import Book
from wayfold.drawing.text import Paragraph
from wayfold.photos.model import Credit
from wayfold.story.model import Story
from wayfold.words.colophon import list_credits
from wayfold.words.terms import knows_language, split_primary
from wayfold.words.texts import COLOPHON

RIGHT_TO_LEFT = frozenset(
    [
        "apc",
        "ar",
        "bal",
        "bgn",
        "ckb",
        "dv",
        "fa",
        "he",
        "ks",
        "lrc",
        "mzn",
        "nqo",
        "ps",
        "rhg",
        "sd",
        "sdh",
        "skr",
        "syr",
        "trw",
        "ug",
        "ur",
        "yi",
    ]
)
"""Languages (ISO 639) whose books open from the right; a test asks the Unicode CLDR."""


def judge_words(
    book: Book,
    story: Story,
    texts: Mapping[str, tuple[Paragraph, ...]],
    credits: Iterable[Credit],
) -> tuple[Finding, ...]:
    """Say what of the book's language Wayfold does not know, and which texts no page shows.

    ``credits`` are those of the pictures shown; a colophon of the person's own should have them.
    """
    findings = []
    if split_primary(book.language) in RIGHT_TO_LEFT:
        findings.append(
            Finding(
                "words.direction",
                Severity.WARN,
                "book.toml, language",
                f"A book in {book.language!r} opens from the right, and its lines begin there. "
                "Wayfold binds books that open from the left: pages, captions and margins lie "
                "the other way round.",
                "Set the book in another language, or take this for a trial only.",
            )
        )
    if not knows_language(book.language):
        findings.append(
            Finding(
                "words.language",
                Severity.NOTE,
                "book.toml, language",
                f"The book's own words (dates, “Contents”) are not known in {book.language!r} "
                "and stand in English.",
                "Set language to en, de, fr, it or es, or live with it.",
            )
        )
    used = {b.text for b in story.blocks if b.text}
    placed = {b.kind.value for b in story.blocks}
    findings.extend(
        Finding(
            "words.unused-text",
            Severity.WARN,
            f"texts/{key}.md",
            "No page of the book shows this text.",
            "Take a picture of that day into the book, or give the text to a chapter."
            if _is_day(key)
            else "Name it as the text of a chapter, or take the file away.",
        )
        for key in texts
        if key not in used and key not in placed
    )
    findings += _find_unnamed(book, texts, credits)
    return tuple(findings)


def _find_unnamed(
    book: Book, texts: Mapping[str, tuple[Paragraph, ...]], credits: Iterable[Credit]
) -> list[Finding]:
    """Give a finding for those who made pictures and are named nowhere."""
    if COLOPHON not in texts:
        return []
    told = " ".join(p.plain for paragraphs in texts.values() for p in paragraphs)
    told = " ".join(f"{told} {book.author}".casefold().split())
    unnamed = [name for name in list_credits(book, credits) if name.casefold() not in told]
    if not unnamed:
        return []
    return [
        Finding(
            "words.credit",
            Severity.NOTE,
            "texts/colophon.md",
            f"The pictures’ files name {'; '.join(unnamed)}, and the book nowhere does.",
            "Name them in the colophon, or take the file away: the book then writes its own.",
        )
    ]


def _is_day(key: str) -> bool:
    try:
        date.fromisoformat(key)
    except ValueError:
        return False
    return True
