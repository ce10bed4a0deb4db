"""Two pictures have the same caption, or nearly the same."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
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


@dataclass(frozen=True, slots=True)
class _Caption:
    said: Writing
    folded: str
    words: frozenset[str]


def find_doubled_captions(subject: Subject) -> Iterator[Finding]:
    """Name each caption that repeats an earlier one; figures must agree ("Room 1", "Room 2")."""
    captions = [
        _Caption(w, fold_name(w.text), frozenset(fold_name(w.text).split()))
        for w in list_writings(subject)
        if w.role is Role.CAPTION and len(w.text.split()) >= FEWEST_WORDS
    ]
    told: set[str | None] = set()
    for one, other in combinations(captions, 2):
        if other.said.photo in told or not (same := _compare(one, other)):
            continue
        told.add(other.said.photo)
        yield Finding(
            RULE,
            Severity.WARN,
            other.said.where,
            f"The {other.said.what} says {same} as the {one.said.what} ({one.said.where}): "
            f"{quote(other.said.text)}",
            "Say of each picture what only it shows, or leave one of them without words.",
        )


def _compare(one: _Caption, other: _Caption) -> str:
    """Say how alike two captions are, or nothing."""
    if one.folded == other.folded:
        return "the same"
    # Few pairs share half their words, and only these are worth a letter by letter look.
    if 2 * len(one.words & other.words) < min(len(one.words), len(other.words)):
        return ""
    if re.findall(r"\d+", one.folded) != re.findall(r"\d+", other.folded):
        return ""
    alike = SequenceMatcher(None, one.folded, other.folded, autojunk=False).ratio()
    return "nearly the same" if alike >= NEARLY else ""
