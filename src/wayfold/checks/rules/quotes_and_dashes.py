"""Quotation marks and dashes come in more than one form.

What is typed straight is set in the language's own marks (``words.punctuation``); what is typed as
it shall be printed stays, and may differ from the rest. Which form a book takes is its maker's
choice, that it takes one is common practice (no single source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.checks.odd_forms import find_odd_forms
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
    "spaced –": re.compile(r"\S+\s–(?=\s\S)"),
    "spaced —": re.compile(r"\S+\s—(?=\s\S)"),
    "closed —": re.compile(r"\w+—\w+"),
    # Between capitals or figures a closed en rule means "to": Milan–Rome, 9–12.
    "closed –": re.compile(r"\b[^\W\d_]*[a-zß-ÿ]–[a-zß-ÿ][^\W\d_]*"),
}
_MARKS = '“”„«»"'
_LONE = re.compile(r"\S*[\"'`´]\S*")


def find_mixed_marks(subject: Subject) -> Iterator[Finding]:
    """Name the places whose quotes or dashes differ from most of the book's, and lone marks."""
    # Credits are other people's words.
    writings = [w for w in list_writings(subject) if w.role is not Role.COLOPHON]
    yield from find_odd_forms(subject, writings, _QUOTES, "quotation marks", RULE, reform=requote)
    yield from find_odd_forms(subject, writings, _DASHES, "dashes", RULE, reform=redash)
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


def requote(writing: Writing, passage: str, usual: str) -> str | None:
    """Give a passage in the ``usual`` quotation marks, where none stand about or within others.

    French puts spaces within its marks: those are left to the person.
    """
    bare = writing.text
    for pattern in _QUOTES.values():
        bare = pattern.sub(" ", bare)
    inner = passage[1:-1]
    if any(mark in bare for mark in _MARKS) or inner != inner.strip():
        return None
    return f"{usual[0]}{inner}{usual[-1]}"


def redash(writing: Writing, passage: str, usual: str) -> str | None:  # noqa: ARG001
    """Give a passage with the ``usual`` dash, where that is a spaced one.

    A closed en rule may mean "to", and stays.
    """
    kind, dash = usual.split()
    if kind != "spaced":
        return None
    if passage[-1] in "–—":
        return passage[:-1] + dash
    before, closed, after = passage.partition("—")
    return f"{before} {dash} {after}" if closed else None
