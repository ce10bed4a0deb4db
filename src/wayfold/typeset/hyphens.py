"""Which languages can be hyphenated."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from wayfold.base.findings import Finding, Severity
from wayfold.drawing.items import Text
from wayfold.typeset.encode import split_language

_PATTERNS = """
af be bg ca cs da de el en es et fi fr gl hr hu is it ka ku la lt mn nb nl nn no pl pt ru sa sk
sl sq sr sv tk tr uk
"""
HYPHENATED = frozenset(_PATTERNS.split())
"""Languages (ISO 639-1) Typst 0.15 has patterns for; a test asks Typst itself."""


def find_unhyphenated(texts: Sequence[Text]) -> Iterator[Finding]:
    """Say in which languages hyphenation was asked for that there are no patterns for."""
    for text in texts:
        asked = {p.style.language for p in text.paragraphs if p.style.hyphenate}
        for code in sorted(asked):
            if split_language(code)[0] not in HYPHENATED:
                yield Finding(
                    "hyphenation",
                    Severity.NOTE,
                    f"language {code}",
                    f"There are no hyphenation patterns for “{code}”: words are not divided.",
                    "Set the text ragged if its lines look gappy.",
                )
