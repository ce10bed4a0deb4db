"""How wide a table's columns are: the widths that make it lowest, found among all there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.drawing.text import Paragraph, Run, TextBlock, TextMeasurer
from wayfold.words.tables import Cell, Table

WIDTHS = (5, 7, 9, 11, 13, 15, 17, 19, 21, 23, 26, 29, 32, 36, 40, 45, 51, 58, 66, 76, 88, 104, 124)
"""The widths (mm) tried for a column, each some 12 % more than the one before."""
LONGEST_WORDS = 8
"""So many of a column's longest words must stand unbroken, letter widths being unlike."""
BREAKABLE = 24
"""A word of more letters than this may break anywhere: no column is wide enough for it."""
ZERO_WIDTH = "\N{ZERO WIDTH SPACE}"
ROUNDING = 0.05


@dataclass(frozen=True, slots=True)
class Fitted:
    """A table with the widths (mm) of its columns and the heights of its rows at these.

    It may have fewer columns than it was asked for: on a narrow page, what found no room beside
    the others stands under them.
    """

    table: Table
    widths: tuple[float, ...]
    heights: tuple[float, ...]
    head_height: float


def fit_columns(table: Table, width: float, gap: float, measurer: TextMeasurer) -> Fitted:
    """Give the widths at which the table is lowest, in ``width`` mm with ``gap`` between columns.

    All combinations of ``WIDTHS`` are weighed, but for those that cannot be the best: a wider
    column that makes no cell lower. No word is broken but by hyphens. What is left of the width
    goes where it saves the most.
    """
    table = _soften(table)
    while True:
        columns = [_measure_column(table, i, measurer) for i in range(len(table.head))]
        room = width - gap * (len(columns) - 1)
        chosen = _choose(columns, room)
        if chosen is not None or len(columns) == 1:
            break
        table = table.with_column_joined()
    rows = (table.head, *table.rows)
    widths = [c.widths[i] for c, i in zip(columns, chosen, strict=True)] if chosen else [room]
    fitted = []
    for widened in _share_out(widths, max(0.0, room - sum(widths)), columns, chosen):
        heights, written = _measure_rows(rows, widened, measurer)
        fitted.append((sum(heights), written, widened, heights))
    _, _, final, heights = min(fitted, key=lambda f: (round(f[0], 6), round(f[1], 6)))
    return Fitted(table, final, heights[1:], heights[0])


@dataclass(frozen=True, slots=True)
class _Column:
    """The widths worth having, rising, and at each the height of every row's cell."""

    widths: tuple[float, ...]
    heights: tuple[tuple[float, ...], ...]


def _share_out(
    widths: Sequence[float],
    spare: float,
    columns: Sequence[_Column],
    chosen: Sequence[int] | None,
) -> list[tuple[float, ...]]:
    """Give ways to share out what is left: by what columns lack, or all to one of them.

    A column lacks the lines that it would save if it were as wide as can be.
    """
    lack = [
        sum(column.heights[i]) - sum(column.heights[-1])
        for column, i in zip(columns, chosen or (), strict=False)
    ]
    wanting = lack if sum(lack) > 0 else list(widths)
    shares = [[part / sum(wanting) for part in wanting]]
    shares += [[float(i == j) for j in range(len(widths))] for i, part in enumerate(lack) if part]
    return [
        tuple(w + spare * part for w, part in zip(widths, share, strict=True)) for share in shares
    ]


def _measure_column(table: Table, index: int, measurer: TextMeasurer) -> _Column:
    cells = [table.head[index], *(row[index] for row in table.rows)]
    words = _list_longest_words(cells)
    unique = list(dict.fromkeys(cell for cell in cells if cell))
    widths = [float(w) for w in WIDTHS]
    blocks = [TextBlock(cell, w) for w in widths for cell in unique]
    proofs = [TextBlock((_with_company(word),), w) for w in widths for word in words]
    alone = [TextBlock((word,), widths[-1]) for word in words]
    measured = measurer.measure_heights([*blocks, *proofs, *alone])
    lines = measured[len(blocks) + len(proofs) :]
    kept: list[float] = []
    heights: list[tuple[float, ...]] = []
    for i, width in enumerate(widths):
        start = len(blocks) + i * len(words)
        proof = measured[start : start + len(words)]
        if any(p > one + ROUNDING for p, one in zip(proof, lines, strict=True)):
            continue
        at = dict(zip(unique, measured[i * len(unique) : (i + 1) * len(unique)], strict=True))
        column = tuple(at.get(cell, 0.0) for cell in cells)
        if not heights or column != heights[-1]:
            kept.append(width)
            heights.append(column)
    if not kept:  # a word wider than any column; it hangs over, and the typesetter says so
        widest = measured[len(blocks) - len(unique) : len(blocks)]
        at = dict(zip(unique, widest, strict=True))
        kept, heights = [widths[-1]], [tuple(at.get(cell, 0.0) for cell in cells)]
    return _Column(tuple(kept), tuple(heights))


def _list_longest_words(cells: Sequence[Cell]) -> list[Paragraph]:
    """Give the longest words as paragraphs of their own, in the looks they have."""
    found: dict[Paragraph, int] = {}
    for cell in cells:
        for paragraph in cell:
            for run in paragraph.runs:
                for word in run.text.replace(ZERO_WIDTH, " ").split(" "):
                    text = word.strip("\n")
                    if text:
                        alone = Run(text, run.italic, run.small_caps, run.colour)
                        found[Paragraph((alone,), paragraph.style)] = len(text)
    longest = sorted(found, key=lambda p: (-found[p], p.plain))
    return longest[:LONGEST_WORDS]


def _with_company(word: Paragraph) -> Paragraph:
    """Give a word with one more letter after it: on one line it proves that the word has room."""
    return Paragraph((*word.runs, Run(" i")), word.style)


def _choose(columns: Sequence[_Column], room: float) -> tuple[int, ...] | None:
    """Give the index of each column's width so that the rows' heights together are least.

    Of equally low tables the one with the fewest lines, so that nothing is broken in vain, and
    of these the narrowest, which leaves the most to share out. None where even the narrowest
    widths are too wide together.
    """
    rows = len(columns[0].heights[0])
    narrowest = [column.widths[0] for column in columns]
    after = [sum(narrowest[i + 1 :]) for i in range(len(columns))]
    lines = [[sum(heights) for heights in column.heights] for column in columns]
    best: tuple[float, float, float, tuple[int, ...]] | None = None

    def walk(index: int, left: float, tall: tuple[float, ...], taken: tuple[int, ...]) -> None:
        nonlocal best
        if index == len(columns):
            written = sum(lines[c][i] for c, i in enumerate(taken))
            found = (round(sum(tall), 6), round(written, 6), round(room - left, 6), taken)
            if best is None or found < best:
                best = found
            return
        if best is not None and sum(tall) > best[0] + ROUNDING:
            return
        column = columns[index]
        for i in range(len(column.widths) - 1, -1, -1):
            if column.widths[i] + after[index] <= left + 1e-9:
                heights = tuple(map(max, tall, column.heights[i]))
                walk(index + 1, left - column.widths[i], heights, (*taken, i))

    walk(0, room, (0.0,) * rows, ())
    return best[3] if best else None


def _measure_rows(
    rows: Sequence[Sequence[Cell]], widths: Sequence[float], measurer: TextMeasurer
) -> tuple[tuple[float, ...], float]:
    """Give the rows' heights, and the height of all cells' lines together."""
    blocks = [
        TextBlock(cell, width) for row in rows for cell, width in zip(row, widths, strict=True)
        if cell
    ]  # fmt: skip
    unique = list(dict.fromkeys(blocks))
    measured = dict(zip(unique, measurer.measure_heights(unique), strict=True))
    heights = tuple(
        max(
            (
                measured[TextBlock(cell, width)]
                for cell, width in zip(row, widths, strict=True)
                if cell
            ),
            default=0.0,
        )
        for row in rows
    )
    return heights, sum(measured[block] for block in blocks)


def _soften(table: Table) -> Table:
    """Let words that no column is wide enough for (an address of the web) break anywhere."""
    rows = tuple(tuple(_soften_cell(cell) for cell in row) for row in table.rows)
    return Table(table.head, rows, table.ranks)


def _soften_cell(cell: Cell) -> Cell:
    return tuple(
        Paragraph(
            tuple(
                Run(_soften_text(r.text), r.italic, r.small_caps, r.colour, r.leader, r.line_break)
                for r in p.runs
            ),
            p.style,
            p.continues,
        )
        for p in cell
    )


def _soften_text(text: str) -> str:
    words = text.split(" ")
    return " ".join(ZERO_WIDTH.join(w) if len(w) > BREAKABLE and " " not in w else w for w in words)
