"""A text measurer that remembers what it has measured, from one run to the next."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.app.identity import code_key, library_key
from wayfold.base.hashing import hash_values
from wayfold.drawing.text import Paragraph, TextBlock
from wayfold.project.cache import NumberCache
from wayfold.typeset.engine import Typesetter


class KeptMeasurer:
    """Asks another measurer only for what is not yet known."""

    def __init__(self, measurer: Typesetter, numbers: NumberCache) -> None:
        """Keep in ``numbers`` what ``measurer`` says."""
        self._measurer = measurer
        self._numbers = numbers
        self._code = hash_values(code_key("typeset"), library_key(), measurer.fonts.key)

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block, set to its width."""
        keys = [hash_values(self._code, block) for block in blocks]
        known = {key: self._numbers.get(key) for key in keys}
        unknown = {k: b for k, b in zip(keys, blocks, strict=True) if known[k] is None}
        if unknown:
            heights = self._measurer.measure_heights(list(unknown.values()))
            new = dict(zip(unknown, heights, strict=True))
            self._numbers.put(new)
            known |= new
        return tuple(height for key in keys if (height := known[key]) is not None)

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        """Thread a text through frames of the given heights (mm)."""
        return self._measurer.split_to_height(block, heights)
