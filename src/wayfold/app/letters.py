"""What is found of letters alone, before any type is set: signs that no font of the book has."""

from __future__ import annotations

from wayfold.app.shown import Shown
from wayfold.base.findings import Finding
from wayfold.base.memory import Aside, Memory
from wayfold.drawing.items import Drawing
from wayfold.typeset.engine import Typesetter


def judge_letters(shown: Shown, memory: Memory) -> tuple[Finding, ...]:
    """Give what pages and translucent leaves lack, page by page; those known are not read again."""
    typesetter, results = shown.typesetter, shown.results
    faces = (face for leaf in results.leaves for face in (leaf.recto, leaf.verso))
    return tuple(
        finding
        for at, drawing in enumerate((*results.drawings, *faces))
        for finding in memory.recall(
            _judge, drawing, typesetter.fonts.key, Aside(typesetter), at=at
        )
    )


def _judge(drawing: Drawing, _fonts: str, typesetter: Aside[Typesetter]) -> tuple[Finding, ...]:
    return typesetter.value.judge_letters(drawing)
