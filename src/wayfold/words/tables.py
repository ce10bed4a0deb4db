"""A table before it is laid out: cells of paragraphs, in rows under one head."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.drawing.text import Paragraph

Cell = tuple[Paragraph, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells, all as many as the head has. An empty cell has no paragraphs."""

    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def __post_init__(self) -> None:
        if any(len(row) != len(self.head) for row in self.rows):
            raise ValueError("a row has more or fewer cells than the head")

    def without_empty_columns(self) -> Table:
        """The table without columns that no row has anything in."""
        kept = [i for i in range(len(self.head)) if any(row[i] for row in self.rows)]
        return Table(
            tuple(self.head[i] for i in kept),
            tuple(tuple(row[i] for i in kept) for row in self.rows),
        )

    def with_last_columns_joined(self) -> Table:
        """The table with what its last column has set under the column before; its head goes."""
        return Table(self.head[:-1], tuple((*row[:-2], row[-2] + row[-1]) for row in self.rows))
