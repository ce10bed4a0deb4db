"""Signs that the book's fonts do not have, found before they print as empty boxes."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterator, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.drawing.items import Text
from wayfold.drawing.text import Paragraph
from wayfold.typeset.fonts import LAST_RESORT, FontLibrary, read_coverage
from wayfold.typeset.letters import clean_text, raise_capitals, split_lines
from wayfold.typeset.small_capitals import wants_capitals

_SHOWN_AT_MOST = 12
_NO_INK = {"Cf", "Cc", "Zs", "Zl", "Zp"}
_VARIATION_SELECTORS = range(0xFE00, 0xFE10)
_STANDS_FOR = {"\u2011": "\u2010"}
"""The shaper sets the hyphen for the non-breaking hyphen where a font has only that."""


def find_missing_glyphs(
    texts: Sequence[Text], fonts: FontLibrary, has_sign: Callable[[str], bool]
) -> Iterator[Finding]:
    """Say which signs of each text its font lacks, and what is set in their place."""
    for text in texts:
        borrowed: dict[str, dict[str, None]] = {}
        for sign, family, lender in _list_missing(text, fonts, has_sign):
            borrowed.setdefault(f"{family}\0{lender}", {})[sign] = None
        for pair, signs in borrowed.items():
            family, lender = pair.split("\0")
            yield _judge(text.key, family, lender, list(signs))


def _list_missing(
    text: Text, fonts: FontLibrary, has_sign: Callable[[str], bool]
) -> Iterator[tuple[str, str, str]]:
    for paragraph in text.paragraphs:
        for letters, italic in _list_letters(paragraph, fonts):
            style = paragraph.style
            for sign in sorted(set(unicodedata.normalize("NFC", letters))):
                if not _lacks(sign, fonts, style.family, italic, style.weight):
                    continue
                others = [f for f in fonts.list_chain(style.family)[1:] if f != LAST_RESORT]
                lender = next(
                    (f for f in others if not _lacks(sign, fonts, f, italic, style.weight)),
                    LAST_RESORT if has_sign(sign) else "",
                )
                yield sign, style.family, lender


def _list_letters(paragraph: Paragraph, fonts: FontLibrary) -> Iterator[tuple[str, bool]]:
    style = paragraph.style
    capitals = style.capitals or wants_capitals(paragraph.runs, style, fonts)
    for run in paragraph.runs:
        letters = clean_text("".join(split_lines(run.text)))
        letters = raise_capitals(letters, style.language) if capitals else letters
        yield letters, style.italic if run.italic is None else run.italic


def _lacks(sign: str, fonts: FontLibrary, family: str, italic: bool, weight: int) -> bool:
    if unicodedata.category(sign) in _NO_INK or ord(sign) in _VARIATION_SELECTORS:
        return False
    covered = read_coverage(fonts.find_face(family, italic, weight).path)
    if ord(sign) in covered or ord(_STANDS_FOR.get(sign, sign)) in covered:
        return False
    apart = unicodedata.normalize("NFD", sign)
    return len(apart) == 1 or any(ord(part) not in covered for part in apart)


def _judge(key: str, family: str, lender: str, signs: list[str]) -> Finding:
    named = ", ".join(name_sign(sign) for sign in signs[:_SHOWN_AT_MOST])
    more = len(signs) - _SHOWN_AT_MOST
    named += f" and {more} more" if more > 0 else ""
    if lender:
        return Finding(
            "glyphs",
            Severity.WARN,
            key,
            f"{family} has no {named}; {lender} stands in.",
            "Write it another way, or choose a font that has it.",
        )
    return Finding(
        "glyphs",
        Severity.BLOCK,
        key,
        f"No font of the book has {named}; it would print as an empty box.",
        "Write it another way, or add a font that has it.",
    )


def name_sign(sign: str) -> str:
    """Name a sign as a person can look it up: “ب” (U+0628 ARABIC LETTER BEH)."""
    code = f"U+{ord(sign):04X}"
    name = unicodedata.name(sign, "")
    return f"“{sign}” ({code} {name})" if name else f"“{sign}” ({code})"
