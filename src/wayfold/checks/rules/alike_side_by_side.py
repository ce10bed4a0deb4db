"""Pictures nearly alike lie on one page or on facing ones, or one shot is in the book twice."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.checks.subject import Subject, list_placements, name_pages

RULE = "alike-side-by-side"


def find_alike_side_by_side(subject: Subject) -> Iterator[Finding]:
    """Name, once for each spread, the pictures that ``photos.sets`` holds to be nearly alike.

    Two files of one shot (raw and JPEG, an edited copy) are named wherever they lie.
    """
    pages: dict[str, tuple[int, ...]] = {}
    for placed in list_placements(subject):
        pages.setdefault(placed.photo, placed.pages)
    shots = {photo: number for number, shot in enumerate(subject.sets.shots) for photo in shot}
    for shot in subject.sets.shots:
        shown = [photo for photo in shot if photo in pages]
        if len(shown) > 1:
            yield _tell(subject, shown, pages, "are files of one shot")
    for group in subject.sets.alike:
        spreads: dict[int, list[str]] = {}
        for photo in group:
            # Of one shot, which is told already, the first file stands for all.
            told = [p for p in group[: group.index(photo)] if p in pages and p in shots]
            if photo in pages and shots.get(photo, photo) not in {shots[p] for p in told}:
                spreads.setdefault(pages[photo][0] // 2, []).append(photo)
        for shown in spreads.values():
            if len(shown) > 1:
                yield _tell(subject, shown, pages, "show nearly the same, side by side")


def _tell(
    subject: Subject, photos: list[str], pages: dict[str, tuple[int, ...]], what: str
) -> Finding:
    names = [subject.name_photo(photo) for photo in photos]
    numbers = sorted({number for photo in photos for number in pages[photo]})
    return Finding(
        RULE,
        Severity.WARN,
        name_pages(tuple(numbers)),
        f"{', '.join(names[:-1])} and {names[-1]} {what}.",
        f"Keep the better one ({Mend.PICK}), unless the repetition is meant.",
    )
