"""Things written in more than one form, of which the rarer is the odd one out."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.checks.writings import Writing, join_quotes

Forms = Mapping[str, re.Pattern[str]]
"""Name of a form, as findings show it, and what matches it; of equals the first is the usual."""


def find_odd_forms(
    writings: Sequence[Writing],
    forms: Forms,
    what: str,
    rule: str,
    own: Mapping[str, int] | None = None,
) -> Iterator[Finding]:
    """Name, once for each writing's place, what is not in the form most common in the book.

    ``own`` counts what the book itself writes in a form; it weighs like the person's.
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
    odd: dict[tuple[str, str, str], list[str]] = {}
    for writing, form, passage in found:
        if form != usual:
            odd.setdefault((writing.where, writing.what, form), []).append(_shorten(passage))
    for (where, name, form), passages in odd.items():
        yield Finding(
            rule,
            Severity.WARN,
            where,
            f"The {name} has {what} in the form {form} ({join_quotes(passages)}); most of the book "
            f"has {usual} ({counts[usual]} of {counts.total()}).",
            f"Write {usual} here too, or {form} throughout.",
        )


def _shorten(passage: str) -> str:
    return passage if len(passage) <= 40 else f"{passage[:24]} … {passage[-12:]}"
