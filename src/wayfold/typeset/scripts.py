"""Writing that runs from right to left: set so, but the pages about it stay as they are."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.drawing.items import Text


def find_right_to_left(texts: Sequence[Text]) -> Iterator[Finding]:
    """Say where letters run from right to left (Unicode Bidi_Class R or AL) and in which script."""
    for text in texts:
        letters = [sign for p in text.paragraphs for sign in p.plain]
        names = {
            unicodedata.name(sign, "").split(" ")[0].capitalize()
            for sign in letters
            if unicodedata.bidirectional(sign) in ("R", "AL") and sign.isalpha()
        }
        if names:
            yield Finding(
                "right-to-left",
                Severity.NOTE,
                text.key,
                f"There is {' and '.join(sorted(names))} writing. Its words run from right to "
                "left; columns, captions and the book itself are laid out from left to right.",
                "Have someone who reads it look at this page before it is printed.",
            )
