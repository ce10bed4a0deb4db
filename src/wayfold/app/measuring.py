"""A text measurer that remembers what it has measured, from one run to the next."""

from __future__ import annotations

import json
from collections.abc import Sequence

from wayfold.app.identity import code_key, library_key
from wayfold.base.cache import Cache
from wayfold.base.hashing import hash_values
from wayfold.drawing.text import Paragraph, TextBlock, TextMeasurer


class KeptMeasurer:
    """Asks another measurer only for what is not yet known."""

    def __init__(self, measurer: TextMeasurer, cache: Cache) -> None:
        """Keep in ``cache`` what ``measurer`` says."""
        self._measurer = measurer
        self._cache = cache
        self._known: dict[str, float] = {}
        self._code = hash_values(code_key("typeset"), library_key())

    def measure_heights(self, blocks: Sequence[TextBlock]) -> tuple[float, ...]:
        """Give the height in mm of each block, set to its width."""
        keys = [self._key(block) for block in blocks]
        missing = {k: b for k, b in zip(keys, blocks, strict=True) if not self._recall(k)}
        if missing:
            heights = self._measurer.measure_heights(list(missing.values()))
            for key, height in zip(missing, heights, strict=True):
                self._known[key] = height
                self._cache.put(key, json.dumps(height).encode())
        return tuple(self._known[key] for key in keys)

    def split_to_height(
        self, block: TextBlock, heights: Sequence[float]
    ) -> tuple[tuple[Paragraph, ...], ...]:
        """Thread a text through frames of the given heights (mm)."""
        return self._measurer.split_to_height(block, heights)

    def _key(self, block: TextBlock) -> str:
        return hash_values(self._code, block)

    def _recall(self, key: str) -> bool:
        if key not in self._known:
            kept = self._cache.get(key)
            if kept is None:
                return False
            self._known[key] = float(json.loads(kept))
        return True
