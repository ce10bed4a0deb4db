"""A picture's edge lies so by the knife or the fold that the cut shows white, or looks like a slip.

Common practice, no single source: a knife and a folder's hand are true to about a millimetre, so a
picture goes through the whole bleed or stays 3 mm and more inside the page.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.book.arranging import BY_HAND
from wayfold.checks.subject import Placement, Subject, list_placements
from wayfold.plan.paper import is_recto

RULE = "picture-edges"
NEAR = 3.0
EXACT = 0.01


def find_bad_edges(subject: Subject) -> Iterator[Finding]:
    """Name pictures that stop short of bleed, knife or fold, and those that a fold parts."""
    for placed in list_placements(subject):
        yield from _judge_knife(subject, placed)
        yield from _judge_fold(subject, placed)


def _judge_knife(subject: Subject, placed: Placement) -> Iterator[Finding]:
    box, page, bleed = placed.box, subject.page, subject.book.bleed
    over = [("head", -box.y), ("foot", box.bottom - page.height)]
    if not is_recto(placed.pages[0]):
        over.append(("fore-edge", -box.x))
    if is_recto(placed.pages[-1]):
        over.append(("fore-edge", box.right - len(placed.pages) * page.width))
    for edge, by in over:
        if not -NEAR + EXACT < by < bleed - EXACT:
            continue
        name = subject.name_photo(placed.photo)
        how = f"goes {by:.1f} mm over" if by > EXACT else f"ends {-by:.1f} mm before"
        yield Finding(
            RULE,
            Severity.WARN,
            placed.where,
            f"{name} {how} the {edge}: a line of white may show there after cutting.",
            f"Let it go {bleed:g} mm over the edge, or stay {NEAR:g} mm inside.",
            placed.photo,
        )


def _judge_fold(subject: Subject, placed: Placement) -> Iterator[Finding]:
    name = subject.name_photo(placed.photo)
    if len(placed.pages) > 1:
        if _is_laid_by_hand(subject, placed) and not _lies_on_one_sheet(subject, placed):
            yield Finding(
                RULE,
                Severity.NOTE,
                placed.where,
                f"The halves of {name} are printed on two sheets: colours and lines may part in "
                "the fold.",
                "At the centre of a gathering both halves lie on one sheet.",
                placed.photo,
            )
        return
    box, bleed = placed.box, subject.book.bleed
    over = -box.x if is_recto(placed.pages[0]) else box.right - subject.page.width
    if over > bleed + EXACT:
        yield Finding(
            RULE,
            Severity.WARN,
            placed.where,
            f"{name} reaches {over:.0f} mm over the fold to a page that is not its own; it is cut "
            "there.",
            "Keep it on its page; only what has both pages can cross the fold.",
            placed.photo,
        )
    elif -NEAR + EXACT < over < -EXACT:
        yield Finding(
            RULE,
            Severity.WARN,
            placed.where,
            f"{name} ends {-over:.1f} mm before the fold, which looks like a slip.",
            f"Let it reach the fold, or stay {NEAR:g} mm and more away.",
            placed.photo,
        )


def _is_laid_by_hand(subject: Subject, placed: Placement) -> bool:
    return any(p.number in placed.pages and p.family == BY_HAND for p in subject.pages)


def _lies_on_one_sheet(subject: Subject, placed: Placement) -> bool:
    gatherings = subject.plan.gatherings if subject.plan else ()
    return any(gathering.centre == placed.pages for gathering in gatherings)
