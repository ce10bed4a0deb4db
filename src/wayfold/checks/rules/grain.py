"""The fibres of the paper run across the spine.

All paper of a book should have its grain parallel to the spine (Roberts and Etherington,
"Bookbinding and the Conservation of Books", Library of Congress 1982: grain direction): against
the grain folds crack, leaves stand up and the gutter ripples.
"""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Size
from wayfold.book.materials import Grain
from wayfold.checks.subject import Subject

RULE = "grain"


def find_wrong_grain(subject: Subject) -> Iterator[Finding]:
    """Say where the grain runs across the fold, or that nobody has looked yet."""
    paper = subject.book.paper
    sheet = subject.sheets[0].size if subject.sheets else _lay_sheet(subject)
    fold_along_long = sheet.height > sheet.width
    wanted = Grain.LONG if fold_along_long else Grain.SHORT
    if abs(sheet.height - sheet.width) < 0.5 or paper.grain is wanted:
        return
    side = "long" if fold_along_long else "short"
    if paper.grain is Grain.UNKNOWN:
        yield Finding(
            RULE,
            Severity.NOTE,
            "paper",
            f"Nobody has looked which way the grain of {paper.name} runs; for this book it must "
            f"run along the {side} side of the sheet.",
            "Bend a sheet both ways: it gives more easily about an axis along the grain. Then "
            "write down what you found.",
        )
        return
    yield Finding(
        RULE,
        Severity.WARN,
        "paper",
        f"The grain of {paper.name} runs along the {paper.grain.value} side, across the fold: "
        "folds may crack, and the leaves will stand up.",
        f"Take {side}-grain sheets, or cut them from a roll so that the grain runs with the spine.",
    )


def _lay_sheet(subject: Subject) -> Size:
    """The sheet the way up that takes two pages side by side, width by height."""
    sheet, trim = subject.book.paper.sheet, subject.book.trim
    landscape = sheet if sheet.width >= sheet.height else sheet.turned
    fits = landscape.width >= 2 * trim.width and landscape.height >= trim.height
    return landscape if fits else landscape.turned
