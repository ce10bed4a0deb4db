"""Two pictures have the same caption, or nearly the same."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher
from itertools import combinations

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject
from wayfold.checks.writings import Role, Writing, list_writings, quote
from wayfold.trip.town_names import fold_name

RULE = "doubled-captions"
NEARLY = 0.9
"""Captions that share this much are one caption with a slip in it."""
FEWEST_WORDS = 3
"""A place's name alone may stand under more than one picture."""


def find_doubled_captions(subject: Subject) -> Iterator[Finding]:
    """Name each caption that repeats an earlier one; figures must agree ("Room 1", "Room 2")."""
    captions = [
        w
        for w in list_writings(subject)
        if w.role is Role.CAPTION and len(w.text.split()) >= FEWEST_WORDS
    ]
    told: set[str | None] = set()
    for one, other in combinations(captions, 2):
        if other.photo in told or not (same := _compare(one, other)):
            continue
        told.add(other.photo)
        yield Finding(
            RULE,
            Severity.WARN,
            other.where,
            f"The {other.what} says {same} as the {one.what} ({one.where}): {quote(other.text)}",
            "Say of each picture what only it shows, or leave one of them without words.",
        )


def _compare(one: Writing, other: Writing) -> str:
    """Say how alike two captions are, or nothing."""
    first, second = fold_name(one.text), fold_name(other.text)
    if first == second:
        return "the same"
    figures = re.findall(r"\d+", first), re.findall(r"\d+", second)
    if figures[0] != figures[1]:
        return ""
    matcher = SequenceMatcher(None, first, second, autojunk=False)
    # The first two are cheap bounds from above, in the library's own order.
    alike = min(matcher.real_quick_ratio(), matcher.quick_ratio()) >= NEARLY
    return "nearly the same" if alike and matcher.ratio() >= NEARLY else ""
