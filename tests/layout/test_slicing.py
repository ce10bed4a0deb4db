"""Slicing trees against their published number and against a solver that knows no formula."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect
from wayfold.layout.slicing import (
    Cut,
    Tree,
    count_trees,
    measure_trees,
    place_tree,
    read_tree,
)

# Large Schröder numbers, OEIS A006318; they count slicing floorplans of n ordered rooms
# (Wong & Liu 1986; Yao, Chen, Cheng, Graham 2003).
SCHROEDER = [1, 2, 6, 22, 90, 394, 1806, 8558, 41586]
ASPECTS = (1.5, 0.667, 1.333, 0.75, 1.778, 1.0, 1.5, 0.8, 2.2)
BOX = Rect(20.0, 22.0, 168.0, 247.0)

aspects = st.lists(st.floats(0.4, 3.0), min_size=1, max_size=6)


def measure_all(ratios, gap, height=200.0):
    return measure_trees(ratios, gap, lambda a, _: np.full_like(a, height))


@pytest.mark.parametrize(("n", "count"), list(enumerate(SCHROEDER, start=1)))
def test_number_of_trees(n, count):
    assert count_trees(n) == count
    assert len(measure_all(ASPECTS[:n], 4.0)) == count


@pytest.mark.parametrize("n", range(1, 8))
def test_no_tree_comes_twice(n):
    trees = {read_tree(n, i) for i in range(SCHROEDER[n - 1])}
    assert len(trees) == SCHROEDER[n - 1]
    assert all(is_canonical(tree) for tree in trees)


def is_canonical(tree: Tree) -> bool:
    if tree.cut is Cut.LEAF:
        return True
    return len(tree.children) > 1 and all(
        child.cut is not tree.cut and is_canonical(child) for child in tree.children
    )


def draw_all_trees(first: int, last: int, cut: str | None = None):
    """Oracle: nested tuples ("beside" | "stacked", children), or a picture's index."""
    if last - first == 1:
        yield first
        return
    for kind in ("beside", "stacked"):
        if kind == cut:
            continue
        for k in range(2, last - first + 1):
            for cuts in itertools.combinations(range(first + 1, last), k - 1):
                edges = [first, *cuts, last]
                parts = [list(draw_all_trees(a, b, kind)) for a, b in itertools.pairwise(edges)]
                for children in itertools.product(*parts):
                    yield (kind, children)


def solve_tree(tree, aspects, gap: float, height: float) -> dict[int, tuple[float, float]]:
    """Oracle: widths and heights of all pictures from one system of linear equations."""
    nodes: list[object] = []

    def number(node) -> int:
        nodes.append(node)
        return len(nodes) - 1

    rows: list[tuple[dict[int, float], float]] = []
    leaves: dict[int, int] = {}

    def visit(node) -> int:
        me = number(node)
        if isinstance(node, int):
            rows.append(({2 * me: 1.0, 2 * me + 1: -aspects[node]}, 0.0))
            leaves[node] = me
            return me
        kind, children = node
        along, over = (0, 1) if kind == "beside" else (1, 0)
        total = {2 * me + along: -1.0}
        for child in children:
            other = visit(child)
            rows.append(({2 * other + over: 1.0, 2 * me + over: -1.0}, 0.0))
            total[2 * other + along] = 1.0
        rows.append((total, -(len(children) - 1) * gap))
        return me

    root = visit(tree)
    rows.append(({2 * root + 1: 1.0}, height))
    matrix = np.zeros((2 * len(nodes), 2 * len(nodes)))
    right = np.zeros(2 * len(nodes))
    for i, (terms, value) in enumerate(rows):
        for column, factor in terms.items():
            matrix[i, column] = factor
        right[i] = value
    solved = np.linalg.solve(matrix, right)
    return {p: (solved[2 * me], solved[2 * me + 1]) for p, me in leaves.items()}


@pytest.mark.parametrize("n", range(1, 6))
def test_all_trees_agree_with_a_linear_solver(n):
    gap, height = 4.0, 200.0
    expected = sorted(
        tuple(round(h, 6) for _, (_, h) in sorted(solve_tree(t, ASPECTS, gap, height).items()))
        for t in draw_all_trees(0, n)
    )
    found = sorted(
        tuple(round(float(h), 6) for h in row)
        for row in measure_all(ASPECTS[:n], gap, height).heights
    )
    assert len(expected) == SCHROEDER[n - 1]
    assert np.allclose(np.array(expected), np.array(found), atol=2e-6)


@pytest.mark.parametrize("n", [2, 5, 7])
def test_a_tree_read_is_the_tree_measured(n):
    measured = measure_all(ASPECTS[:n], 4.0, 300.0)
    for index in range(0, len(measured), 1 + len(measured) // 200):
        tree, width = read_tree(n, index), measured.a[index] * 300.0 + measured.b[index]
        rects = place_tree(tree, ASPECTS[:n], 4.0, Rect(0.0, 0.0, float(width), 1e9))
        assert [r.height for r in rects] == pytest.approx(list(measured.heights[index]))


@given(aspects, st.floats(0.0, 8.0), st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_aspects_hold_and_siblings_add_up(ratios, gap, chance: random.Random):
    n = len(ratios)
    tree = read_tree(n, chance.randrange(count_trees(n)))
    rects = place_tree(tree, ratios, gap, Rect(0.0, 0.0, 4000.0, 4000.0))
    for rect, ratio in zip(rects, ratios, strict=True):
        if rect.height > 1.0:
            assert abs(rect.width / rect.height / ratio - 1) <= 1e-9
    check_sums(tree, rects, gap)


def bounds(tree: Tree, rects) -> Rect:
    if tree.cut is Cut.LEAF:
        return rects[tree.picture]
    parts = [bounds(child, rects) for child in tree.children]
    x, y = min(p.x for p in parts), min(p.y for p in parts)
    return Rect(x, y, max(p.right for p in parts) - x, max(p.bottom for p in parts) - y)


def check_sums(tree: Tree, rects, gap: float) -> None:
    if tree.cut is Cut.LEAF:
        return
    whole = bounds(tree, rects)
    parts = [bounds(child, rects) for child in tree.children]
    gaps = (len(parts) - 1) * gap
    if min(min(p.width, p.height) for p in parts) <= 0:
        return
    if tree.cut is Cut.BESIDE:
        assert sum(p.width for p in parts) + gaps == pytest.approx(whole.width, abs=1e-7)
        assert all(p.height == pytest.approx(whole.height, abs=1e-7) for p in parts)
    else:
        assert sum(p.height for p in parts) + gaps == pytest.approx(whole.height, abs=1e-7)
        assert all(p.width == pytest.approx(whole.width, abs=1e-7) for p in parts)
    for child in tree.children:
        check_sums(child, rects, gap)


@given(
    aspects.filter(lambda r: len(r) > 1), st.floats(1.01, 1.5), st.randoms(use_true_random=False)
)
@settings(max_examples=150, deadline=None)
def test_a_wider_picture_makes_every_tree_wider(ratios, factor, chance: random.Random):
    n, height = len(ratios), 1000.0
    wider = list(ratios)
    wider[chance.randrange(n)] *= factor
    before, after = measure_all(ratios, 4.0, height), measure_all(wider, 4.0, height)
    # Where all pictures have room, that is where all heights are positive, in both.
    sound = (before.heights > 0).all(axis=1) & (after.heights > 0).all(axis=1)
    assert (after.a * height + after.b > before.a * height + before.b)[sound].all()


@pytest.mark.parametrize("wrong", [(), (1.0,) * 11, (1.0, 0.0), (1.5, -1.0)])
def test_what_cannot_be_arranged_is_refused(wrong):
    with pytest.raises(ValueError, match="cannot arrange"):
        measure_all(wrong, 4.0)
