"""Quotation marks and dashes come in more than one form.

What is typed straight is set in the language's own marks (``words.punctuation``); what is typed as
it shall be printed stays, and may differ from the rest. Which form a book takes is its maker's
choice, that it takes one is common practice (no single source).
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, join_quotes, list_writings

RULE = "quotes-and-dashes"
_ROUND = '[^“”„«»"]{1,200}?'
_QUOTES = {
    "“…”": re.compile(f"“{_ROUND}”"),
    "„…“": re.compile(f"„{_ROUND}“"),
    "„…”": re.compile(f"„{_ROUND}”"),
    "«…»": re.compile(f"«{_ROUND}»"),
    "»…«": re.compile(f"»{_ROUND}«"),
    '"…"': re.compile(f'"{_ROUND}"'),
}
_DASHES = {
    "word – word": re.compile(r"\S+\s–\s\S+"),
    "word — word": re.compile(r"\S+\s—\s\S+"),
    "word—word": re.compile(r"\w+—\w+"),
    # Between capitals or figures a closed en rule means "to": Milan–Rome, 9–12.
    "word–word": re.compile(r"\b[^\W\d_]*[a-zß-ÿ]–[a-zß-ÿ][^\W\d_]*"),
}
_LONE = re.compile(r"\S*[\"'`´]\S*")


def find_mixed_marks(subject: Subject) -> Iterator[Finding]:
    """Name the places whose quotes or dashes differ from most of the book's, and lone marks."""
    # Credits are other people's words.
    writings = [w for w in list_writings(subject) if w.role is not Role.COLOPHON]
    yield from _find_odd(writings, _QUOTES, "quotation marks")
    yield from _find_odd(writings, _DASHES, "dashes")
    for writing in writings:
        bare = _QUOTES['"…"'].sub(" ", writing.text)
        if lone := _LONE.findall(bare):
            yield Finding(
                RULE,
                Severity.WARN,
                writing.where,
                f"The {writing.what} keeps a typewriter's mark in {join_quotes(lone)}: it opens or "
                "closes nothing.",
                "Write the mark that is meant: a curly quote, an apostrophe ’, or ′ and ″ for "
                "minutes and inches.",
            )


def _find_odd(
    writings: list[Writing], forms: Mapping[str, re.Pattern[str]], what: str
) -> Iterator[Finding]:
    found = [
        (writing, form, passage)
        for writing in writings
        for form, pattern in forms.items()
        for passage in pattern.findall(writing.text)
    ]
    counts = Counter(form for _, form, _ in found)
    if len(counts) < 2:
        return
    usual = max(counts, key=lambda form: (counts[form], -list(forms).index(form)))
    odd: dict[tuple[str, str, str], list[str]] = {}
    for writing, form, passage in found:
        if form != usual:
            odd.setdefault((writing.where, writing.what, form), []).append(_shorten(passage))
    for (where, name, form), passages in odd.items():
        yield Finding(
            RULE,
            Severity.WARN,
            where,
            f"The {what} of the {name} are {form} in {join_quotes(passages)}; most of the book "
            f"has {usual} ({counts[usual]} of {sum(counts.values())}).",
            f"Write {usual} here too, or the other form throughout.",
        )


def _shorten(passage: str) -> str:
    return passage if len(passage) <= 40 else f"{passage[:24]} … {passage[-12:]}"
