"""A text measurer that remembers what it has measured, from one run to the next."""

from __future__ import annotations

from collections.abc import Sequence

from wayfold.app.identity import code_key, library_key
from wayfold.base.hashing import hash_values
from wayfold.base.memory import Memory
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer
from wayfold.layout.matter import RememberingMeasurer
from wayfold.project.cache import NumberCache
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter


def keep_measures(
    folder: BookFolder, typesetter: Typesetter, memory: Memory | None = None
) -> TextMeasurer:
    """Give a measurer that keeps in the book's cache, and in ``memory``, what it has measured."""
    return (memory or Memory()).recall(_open_measurer, folder, typesetter)


def _open_measurer(folder: BookFolder, typesetter: Typesetter) -> TextMeasurer:
    kept = KeptMeasurer(typesetter, NumberCache(folder.cache, "measures"))
    return RememberingMeasurer(kept)


class KeptMeasurer:
    """Asks another measurer only for what is not yet known."""

    def __init__(self, measurer: Typesetter, numbers: NumberCache) -> None:
        """Keep in ``numbers`` what ``measurer`` says."""
        self._measurer = measurer
        self._numbers = numbers
        self.key = hash_values(code_key("typeset"), library_key(), measurer.fonts.key)

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block, set to its width."""
        keys = [hash_values(self.key, block) for block in blocks]
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
