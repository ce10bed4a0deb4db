"""Edges of pictures that should stand in line miss each other by a hair.

Common practice, no single source: a step of a tenth of a millimetre nobody sees, one of several
millimetres looks meant; between them it looks like a mistake.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.checks.subject import Subject, name_pages, show_box
from wayfold.layout.model import PageLayout, PictureFrame

RULE = "almost-aligned"
UNSEEN = 0.05
MEANT = 1.2


def find_almost_aligned(subject: Subject) -> Iterator[Finding]:
    """Name, once for each spread, the edges of frames that miss each other by ``MEANT`` or less.

    Heads and feet are compared over both facing pages, sides on one page.
    """
    spreads: dict[int, list[PageLayout]] = {}
    for page in subject.pages:
        spreads.setdefault(page.number // 2, []).append(page)
    for pages in spreads.values():
        misses = list(_list_misses(subject, pages))
        if not misses:
            continue
        worst, edge, one, other = max(misses)
        more = f" (and {len(misses) - 1} more)" if len(misses) > 1 else ""
        yield Finding(
            RULE,
            Severity.WARN,
            name_pages(tuple(p.number for p in pages)),
            f"The {edge} edges of {subject.name_photo(one)} and {subject.name_photo(other)} miss "
            f"each other by {worst:.2f} mm{more}.",
            "Set them in line, or so far apart that it looks meant.",
        )


def _list_misses(
    subject: Subject, pages: list[PageLayout]
) -> Iterator[tuple[float, str, str, str]]:
    frames: list[tuple[int, str, Rect]] = []
    for page in pages:
        for frame in page.frames:
            if isinstance(frame, PictureFrame) and (box := show_box(frame, subject.page)):
                frames.append((page.number, frame.photo, box))
    for (here, one, a), (there, other, b) in combinations(frames, 2):
        if one == other:
            continue
        edges = {"upper": a.y - b.y, "lower": a.bottom - b.bottom}
        if here == there:
            edges |= {"left": a.x - b.x, "right": a.right - b.right}
        for edge, miss in edges.items():
            if UNSEEN < abs(miss) < MEANT:
                yield abs(miss), edge, one, other
