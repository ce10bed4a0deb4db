"""White by numbers against white by looking at every cell."""

from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.layout.white import White, measure_white

fields = st.tuples(st.integers(1, 14), st.integers(1, 14))


def look_at_every_cell(columns, rows, covered, least) -> White:
    free = {
        (x, y)
        for x in range(columns)
        for y in range(rows)
        if not any(a <= x < c and b <= y < d for a, b, c, d in covered)
    }
    opened = set()
    for x in range(columns):
        for y in range(rows):
            square = {(x + i, y + j) for i in range(least) for j in range(least)}
            if square <= free:
                opened |= square
    largest = trapped = 0
    while opened:
        todo, piece = [opened.pop()], set()
        while todo:
            x, y = todo.pop()
            piece.add((x, y))
            for beside in ((x + 1, y), (x - 1, y), (x, y + 1), (x, y - 1)):
                if beside in opened:
                    opened.remove(beside)
                    todo.append(beside)
        largest = max(largest, len(piece))
        if not any(x in (0, columns - 1) or y in (0, rows - 1) for x, y in piece):
            trapped += len(piece)
    return White(largest, trapped)


@given(fields, st.data(), st.integers(1, 4))
@settings(max_examples=200, deadline=None)
def test_all_ways_of_looking_agree(field, data, least):
    columns, rows = field
    covered = []
    for _ in range(data.draw(st.integers(0, 8))):
        x, y = data.draw(st.integers(0, columns - 1)), data.draw(st.integers(0, rows - 1))
        right, bottom = data.draw(st.integers(x + 1, columns)), data.draw(st.integers(y + 1, rows))
        covered.append((x, y, min(right, x + 4), min(bottom, y + 4)))
    assert measure_white(columns, rows, covered, least) == look_at_every_cell(
        columns, rows, covered, least
    )


def test_a_winding_passage_is_one_piece():
    walls = [(0, 1, 9, 2), (1, 3, 10, 4), (0, 5, 9, 6), (1, 7, 10, 8)]
    white = measure_white(10, 9, walls, 1)
    assert white == look_at_every_cell(10, 9, walls, 1) == White(90 - 36, 0)
