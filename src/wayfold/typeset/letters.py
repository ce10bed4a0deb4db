"""Letters as they are set: capitals by language, and signs that break or trouble a line."""

from __future__ import annotations

import re
import unicodedata

_BREAKS = re.compile(r"\r\n|[\n\r\v\f\x85\u2028\u2029]")
_SPACED_DASH = re.compile(r"(?<=\S) (?=[–—] )")
_GREEK_ACCENTS = {"\u0301", "\u0300", "\u0342", "\u0313", "\u0314"}


def split_lines(text: str) -> list[str]:
    """Cut a text at the line ends it carries (Unicode's mandatory breaks)."""
    return _BREAKS.split(text)


def clean_text(text: str) -> str:
    """Give a text without signs that no font can show.

    Tabs become spaces; other control characters and noncharacters go; half surrogate pairs, which
    stand for a sign lost on the way, become the sign for that (U+FFFD).
    """
    return "".join(_clean(ch) for ch in text)


def tie_dashes(text: str) -> str:
    """Tie a dash between spaces to the word before it: no line begins with such a dash."""
    return _SPACED_DASH.sub("\u00a0", text)


def _clean(ch: str) -> str:
    if ch == "\t":
        return " "
    kind = unicodedata.category(ch)
    if kind == "Cs":
        return "\ufffd"
    code = ord(ch)
    nonchar = (code & 0xFFFE) == 0xFFFE or 0xFDD0 <= code <= 0xFDEF
    return "" if kind == "Cc" or nonchar else ch


def raise_capitals(text: str, language: str) -> str:
    """Give a text in capitals as its language writes them.

    Turkish and Azerbaijani keep the dot of i (Unicode SpecialCasing.txt); Greek capitals carry no
    accents but keep the diaeresis (the same rule as in the Unicode CLDR transform el-Upper).
    """
    tongue = language.split("-")[0].lower()
    if tongue in {"tr", "az"}:
        text = text.replace("i", "İ").replace("ı", "I")
    if tongue == "el":
        apart = unicodedata.normalize("NFD", text)
        text = unicodedata.normalize("NFC", "".join(c for c in apart if c not in _GREEK_ACCENTS))
    return text.upper()


def find_direction(text: str) -> str:
    """Give "ltr" or "rtl" by the first letter that runs one way or the other.

    Rules P2 and P3 of the Unicode Bidirectional Algorithm (UAX 9); a text without such a letter
    runs from left to right.
    """
    kinds = (unicodedata.bidirectional(sign) for sign in text)
    first = next((kind for kind in kinds if kind in ("L", "R", "AL")), "L")
    return "ltr" if first == "L" else "rtl"
