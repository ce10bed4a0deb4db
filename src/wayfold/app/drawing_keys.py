"""The identity of drawings by their content, each looked at once."""

from __future__ import annotations

from wayfold.base.hashing import hash_values
from wayfold.drawing.items import Drawing, Item, Placed


class DrawingKeys:
    """Gives the identity of drawings; one that is placed on several others is looked at once.

    It holds on to the drawings that it has seen.
    """

    def __init__(self) -> None:
        self._known: dict[int, tuple[Drawing, str]] = {}

    def of(self, drawing: Drawing) -> str:
        """Give the identity of a drawing by its content."""
        known = self._known.get(id(drawing))
        if known is None:
            items = [self._show(item) for item in drawing.items]
            key = hash_values(drawing.label, drawing.size, drawing.bleed, items)
            known = self._known[id(drawing)] = (drawing, key)
        return known[1]

    def _show(self, item: Item) -> object:
        if isinstance(item, Placed):
            return ("Placed", self.of(item.drawing), item.transform, item.clip)
        return item
