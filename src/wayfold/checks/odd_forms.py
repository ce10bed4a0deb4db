"""Things written in more than one form, of which the rarer is the odd one out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.checks.rewording import offer
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Writing, join_quotes

Forms = Mapping[str, re.Pattern[str]]
"""Name of a form, as findings show it, and what matches it; of equals the first is the usual."""
Reform = Callable[[Writing, str, str], str | None]
"""Gives a writing's passage in the form that is usual, or None where that is not safe."""


def leave(writing: Writing, passage: str, usual: str) -> None:
    """Leave every passage to the person: a ``Reform``."""


def find_odd_forms(
    subject: Subject,
    writings: Sequence[Writing],
    forms: Forms,
    what: str,
    rule: str,
    own: Mapping[str, int] | None = None,
    reform: Reform = leave,
) -> Iterator[Finding]:
    """Name, once for each writing's place, what is not in the form most common in the book.

    ``own`` counts what the book itself writes in a form; it weighs like the person's. ``reform``
    writes a passage in the usual form.
    """
    found = [
        (writing, form, match[0])
        for writing in writings
        for form, pattern in forms.items()
        for match in pattern.finditer(writing.text)
    ]
    counts = Counter(form for _, form, _ in found)
    counts.update(own or {})
    if len(counts) < 2:
        return
    usual = max(counts, key=lambda form: (counts[form], -list(forms).index(form)))
    odd: dict[tuple[str, str, str], list[tuple[Writing, str]]] = {}
    for writing, form, passage in found:
        if form != usual:
            odd.setdefault((writing.where, writing.what, form), []).append((writing, passage))
    for (where, name, form), pairs in odd.items():
        passages = [_shorten(passage) for _, passage in pairs]
        yield Finding(
            rule,
            Severity.WARN,
            where,
            f"The {name} has {what} in the form {form} ({join_quotes(passages)}); most of the book "
            f"has {usual} ({counts[usual]} of {counts.total()}).",
            f"Write {usual} here too, or {form} throughout.",
            rewordings=offer(subject, [(w, p, reform(w, p, usual)) for w, p in pairs]),
        )


def _shorten(passage: str) -> str:
    return passage if len(passage) <= 40 else f"{passage[:24]} … {passage[-12:]}"
