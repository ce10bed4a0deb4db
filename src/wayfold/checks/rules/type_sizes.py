"""Type of one kind is set in sizes, or on lines, that nearly agree.

A scale of sizes has steps that can be seen: the classical one runs 6, 7, 8, 9, 10, 11, 12, 14, 16 …
points (R. Bringhurst, The Elements of Typographic Style, ch. 3), eight per cent at least. What is
nearer looks like a mistake. 6 pt are the floor of reading (Rostock guide to map type).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from wayfold.base.findings import Finding, Severity
from wayfold.checks.subject import Subject, name_pages
from wayfold.drawing.text import Paragraph
from wayfold.layout.model import TextFrame

RULE = "type-sizes"
STEP = 0.06
"""Sizes of one face that differ by less than this share of the larger are meant to be one."""
LEAST_PT = 6.0
ROUNDING_PT = 0.01
RUNNING = ("text", "foreword", "closing")
"""Texts whose lines stand at one distance throughout."""
Kind = tuple[str, bool, bool, int]


def find_odd_sizes(subject: Subject) -> Iterator[Finding]:
    """Name sizes of one face that nearly agree, lines of running text that do, and tiny type."""
    sizes: dict[Kind, Counter[float]] = {}
    leadings: dict[tuple[Kind, float], Counter[float]] = {}
    pages: dict[tuple[Kind, float, float], set[int]] = {}
    for page, role, paragraph in _list_paragraphs(subject):
        style = paragraph.style
        kind = (style.family, style.italic, style.small_caps, style.weight)
        sizes.setdefault(kind, Counter())[style.size_pt] += 1
        pages.setdefault((kind, style.size_pt, style.leading_pt), set()).add(page)
        if role in RUNNING:
            leadings.setdefault((kind, style.size_pt), Counter())[style.leading_pt] += 1
    for kind, counts in sizes.items():
        for rarer, usual in _list_near(counts):
            on = {n for (k, size, _), found in pages.items() if (k, size) == (kind, rarer)
                  for n in found}  # fmt: skip
            yield _tell(on, f"{_name(kind)} of {rarer:g} pt stands beside {usual:g} pt elsewhere")
        for tiny in (size for size in counts if size < LEAST_PT):
            on = {n for (k, size, _), found in pages.items() if (k, size) == (kind, tiny)
                  for n in found}  # fmt: skip
            yield _tell(on, f"{_name(kind)} of {tiny:g} pt is too small to read")
    for (kind, size), counts in leadings.items():
        for rarer, usual in _list_near(counts):
            on = pages[kind, size, rarer]
            yield _tell(on, f"The lines of the text stand {rarer:g} pt apart, elsewhere {usual:g}")


def _list_paragraphs(subject: Subject) -> Iterator[tuple[int, str, Paragraph]]:
    for page in subject.pages:
        for frame in page.frames:
            if isinstance(frame, TextFrame):
                role = frame.key.partition(":")[0].partition("#")[0]
                yield from ((page.number, role, p) for p in frame.paragraphs)


def _list_near(counts: Counter[float]) -> Iterator[tuple[float, float]]:
    """Give pairs of measures that nearly agree, the rarer first."""
    for one, other in combinations(sorted(counts), 2):
        if ROUNDING_PT < other - one < STEP * other:
            yield (one, other) if counts[one] <= counts[other] else (other, one)


def _name(kind: Kind) -> str:
    family, italic, small_caps, _ = kind
    return f"{family}{' italic' if italic else ''}{' in small capitals' if small_caps else ''}"


def _tell(pages: set[int], what: str) -> Finding:
    return Finding(
        RULE,
        Severity.WARN,
        name_pages(tuple(sorted(pages))),
        f"{what}.",
        "Let the style's sizes agree, or differ so much that it is seen.",
    )
