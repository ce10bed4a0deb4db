"""Typewriter punctuation becomes the printer's: quotes, apostrophes, dashes, ellipses.

Quotation marks by language: common practice as the Unicode CLDR records it. Markdown and plain
strings (titles, captions) go through the same rules.
"""

from __future__ import annotations

import re
from functools import lru_cache
from itertools import pairwise

from markdown_it import MarkdownIt
from mdit_py_plugins.footnote import footnote_plugin

from wayfold.words.dates import name_months

NO_BREAK = "\N{NO-BREAK SPACE}"
SHORT_END = 10
FEWEST_SPACES = 2
SHORT_WORD = 3
"""Articles and prepositions of so many letters do not end a line of a title."""
_QUOTES: dict[str, tuple[str, str, str, str]] = {
    "en": ("“", "”", "‘", "’"),
    "de": ("„", "“", "‚", "‘"),
    "fr": (f"«{NO_BREAK}", f"{NO_BREAK}»", "“", "”"),
    "it": ("«", "»", "“", "”"),
    "es": ("«", "»", "“", "”"),
}
_UNIT = re.compile(r"(\d) (km/h|km|cm|mm|m|kg|g|l|h|min|s|mi|ft|°C|°F|%|€|£)(?![\w/])")
_NUMBER_RANGE = re.compile(r"(?<![\w.-])(\d+)-(\d+)(?![\d-]|\.\d)")
_SPACED_HYPHEN = re.compile(r"(?<=\s)-(?=\s)")
_FRENCH_PAUSE = re.compile(r"(?<=[\w»)’”…])[ \N{NO-BREAK SPACE}]?([;!?])(?=[\s»)”]|$)")
_FRENCH_COLON = re.compile(r"(?<=[\w»)’”])[ \N{NO-BREAK SPACE}]?:(?=\s|$)")


@lru_cache(maxsize=8)
def make_reader(language: str) -> MarkdownIt:
    """Give a reader of CommonMark and footnotes (``[^1]``) that sets the quotes of ``language``.

    Unknown languages have English ones. Footnotes stay where they are written.
    """
    quotes = list(_QUOTES.get(_primary(language), _QUOTES["en"]))
    reader = MarkdownIt("commonmark", {"typographer": True, "quotes": quotes, "html": True})
    reader.use(footnote_plugin, inline=False, move_to_end=False, always_match_refs=True)
    return reader.enable(["replacements", "smartquotes"])


@lru_cache(maxsize=8)
def _make_plain_reader(language: str) -> MarkdownIt:
    quotes = list(_QUOTES.get(_primary(language), _QUOTES["en"]))
    reader = MarkdownIt("zero", {"typographer": True, "quotes": quotes})
    return reader.enable(["replacements", "smartquotes"])


@lru_cache(maxsize=4096)
def set_punctuation(text: str, language: str) -> str:
    """Give a plain string (no Markdown in it) with the printer's punctuation, on one line."""
    one_line = " ".join(text.split())
    if not one_line:
        return ""
    tokens = _make_plain_reader(language).parseInline(one_line)
    text = set_spaces("".join(c.content for t in tokens for c in t.children or ()), language)
    return tie_numbers(text, language)


def hold_small_words(text: str) -> str:
    """Give a title whose lines will break by sense: short words stay with the word they lead to.

    Common practice, no single source.
    """
    words = text.split(" ")
    held = words[0]
    for before, word in pairwise(words):
        short = len(before) <= SHORT_WORD and before.isalpha()
        held += (NO_BREAK if short else " ") + word
    return held


def hold_last_word(text: str) -> str:
    """Give a caption whose last line will not be one short word."""
    head, _, last = text.rpartition(" ")
    if head.count(" ") >= FEWEST_SPACES and len(last) <= SHORT_END:
        return f"{head}{NO_BREAK}{last}"
    return text


def set_spaces(text: str, language: str) -> str:
    """Mend what the reader leaves: ranges of numbers, spaced hyphens, French pauses."""
    text = _NUMBER_RANGE.sub(r"\1–\2", text)
    text = _SPACED_HYPHEN.sub("–", text)
    if _primary(language) == "fr":
        text = _FRENCH_PAUSE.sub(rf"{NO_BREAK}\1", text)
        text = _FRENCH_COLON.sub(f"{NO_BREAK}:", text)
    return text


def tie_numbers(text: str, language: str) -> str:
    """Give a text in which a number stays on the line of what it counts: "12 May", "3 km".

    "Link short numerical expressions with hard spaces" (R. Bringhurst, The Elements of Typographic
    Style, 2.4.6).
    """
    return _UNIT.sub(rf"\1{NO_BREAK}\2", _find_month_days(language).sub(rf"\1{NO_BREAK}", text))


@lru_cache(maxsize=8)
def _find_month_days(language: str) -> re.Pattern[str]:
    months = "|".join(re.escape(month) for month in name_months(language))
    return re.compile(rf"\b(\d{{1,2}}(?:er|\.)?) (?=(?:de )?(?:{months})\b)")


def _primary(language: str) -> str:
    return language.replace("_", "-").split("-")[0].lower()
