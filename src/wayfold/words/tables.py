"""A table before it is laid out: cells of paragraphs, in rows under one head."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.drawing.text import Paragraph

Cell = tuple[Paragraph, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of cells, all as many as the head has. An empty cell has no paragraphs.

    ``ranks`` say in what order columns give way where there is no room for all beside each other:
    the lowest first, under its left neighbour. Without them the last column does.
    """

    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    ranks: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        if any(len(row) != len(self.head) for row in self.rows):
            raise ValueError("a row has more or fewer cells than the head")

    def without_empty_columns(self) -> Table:
        """The table without columns that no row has anything in."""
        kept = [i for i in range(len(self.head)) if any(row[i] for row in self.rows)]
        return Table(
            tuple(self.head[i] for i in kept),
            tuple(tuple(row[i] for i in kept) for row in self.rows),
            tuple(self.ranks[i] for i in kept) if self.ranks else (),
        )

    def with_column_joined(self) -> Table:
        """The table with one column set under the one to its left; its head goes.

        Of a table with one column, raises ValueError.
        """
        count = len(self.head)
        if count < 2:
            raise ValueError("a table of one column has none to join")
        at = min(range(1, count), key=lambda i: self.ranks[i] if self.ranks else -i)

        def join(row: tuple[Cell, ...]) -> tuple[Cell, ...]:
            return (*row[: at - 1], row[at - 1] + row[at], *row[at + 1 :])

        return Table(
            (*self.head[:at], *self.head[at + 1 :]),
            tuple(join(row) for row in self.rows),
            (*self.ranks[:at], *self.ranks[at + 1 :]),
        )
