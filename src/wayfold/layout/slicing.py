"""Pictures arranged without crop by cutting a rectangle again and again: all ways, the best one.

A slicing tree is a picture, or two or more trees side by side, or two or more stacked. Written
canonically (nothing side by side directly within side by side, nor stacked within stacked), the
trees of n pictures in fixed order are counted by the large Schröder numbers (OEIS A006318): 1, 2,
6, 22, 90, 394, 1806, 8558, 41586 for n = 1 to 9. Normal forms of slicing trees: Wong & Liu, "A new
algorithm for floorplan design", DAC 1986.

With a fixed gap g, the width of every node is affine in its height, w = a h + b:

    picture of aspect r:      a = r,                b = 0
    side by side (k nodes):   a = sum a_i,          b = sum b_i + (k - 1) g
    stacked (k nodes):        a = 1 / sum(1 / a_i), b = a (sum(b_i / a_i) - (k - 1) g)

so is the height of every picture, h_leaf = p h + q, and all trees are worked out at once as arrays.
"""

from __future__ import annotations

import enum
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect

MOST_PICTURES = 10
Floats = npt.NDArray[np.float64]
Index = slice | tuple[slice | None, ...]


class Cut(enum.Enum):
    """What a node of a tree is."""

    LEAF = "leaf"
    BESIDE = "beside"
    STACKED = "stacked"


@dataclass(frozen=True, slots=True)
class Measured:
    """All trees over some pictures, at the heights wanted of them.

    ``a``, ``b``, ``height`` (mm): shape (trees,); ``heights`` of the pictures: (trees, pictures).
    """

    a: Floats
    b: Floats
    height: Floats
    heights: Floats

    def __len__(self) -> int:
        return len(self.a)


@dataclass(frozen=True, slots=True)
class Forest:
    """All trees over a run of pictures: first those whose root lies side by side, then stacked.

    ``a``, ``b``: shape (trees,); ``p``, ``q``: shape (trees, pictures). More dimensions where trees
    are paired.
    """

    a: Floats
    b: Floats
    p: Floats
    q: Floats

    def __len__(self) -> int:
        return len(self.a)

    def __getitem__(self, part: Index) -> Forest:
        return Forest(self.a[part], self.b[part], self.p[part], self.q[part])


@dataclass(frozen=True, slots=True)
class Tree:
    """One tree: a picture by its index, or children cut one way."""

    cut: Cut
    picture: int = -1
    children: tuple[Tree, ...] = ()


@dataclass(frozen=True, slots=True)
class Shape:
    """A tree whose pictures have aspects: its width is ``a`` times its height, plus ``b`` mm."""

    tree: Tree
    a: float
    b: float
    children: tuple[Shape, ...]


def measure_trees(
    aspects: Sequence[float], gap: float, fit: Callable[[Floats, Floats], Floats]
) -> Measured:
    """Measure all canonical trees over ``aspects`` (width over height, in order), gaps ``gap`` mm.

    ``fit`` gives the heights of trees (mm) from their ``a`` and ``b``. Raises ValueError for no
    pictures, more than ``MOST_PICTURES``, or an aspect that is not positive.
    """
    n = len(aspects)
    if not 1 <= n <= MOST_PICTURES or min(aspects) <= 0:
        raise ValueError(f"cannot arrange {n} pictures of aspects {tuple(aspects)}")
    grown = _grow_forests(tuple(aspects), gap)
    if n == 1:
        leaf = grown[0, 1]
        height = fit(leaf.a, leaf.b)
        return Measured(leaf.a, leaf.b, height, height[:, None])
    count = count_trees(n)
    measured = Measured(np.empty(count), np.empty(count), np.empty(count), np.empty((count, n)))
    start = 0
    for cut, m, one, other in _pair_runs(grown, 0, n):
        end = start + one.a.size * other.a.size
        a, b = _pair(one, other, cut, gap)
        whole = fit(a, b)
        measured.a[start:end], measured.b[start:end] = a.ravel(), b.ravel()
        measured.height[start:end] = whole.ravel()
        heights = measured.heights[start:end].reshape(*a.shape, n)
        for child, into in ((one, heights[:, :, :m]), (other, heights[:, :, m:])):
            high = whole if cut is Cut.BESIDE else (a * whole + b - child.b) / child.a
            np.multiply(child.p, high[:, :, None], out=into)
            into += child.q
        start = end
    return measured


def read_tree(n: int, index: int) -> Tree:
    """Give the tree over n pictures that lies at ``index`` of what ``measure_trees`` gives."""
    return _read(0, n, index)


def place_tree(tree: Tree, aspects: Sequence[float], gap: float, box: Rect) -> tuple[Rect, ...]:
    """Give each picture's rectangle, the tree as large as ``box`` allows, at its top left corner.

    Every rectangle keeps its aspect exactly; siblings and gaps add up to their parent.
    """
    shape = shape_tree(tree, aspects, gap)
    height = min(box.height, (box.width - shape.b) / shape.a)
    placed: dict[int, Rect] = {}
    _place(shape, gap, Rect(box.x, box.y, shape.a * height + shape.b, height), placed)
    return tuple(placed[i] for i in range(len(aspects)))


@lru_cache(maxsize=MOST_PICTURES + 1)
def count_trees(n: int) -> int:
    """Give how many canonical trees there are over n pictures in order."""
    if n == 1:
        return 1
    return 2 * sum(_count_first(m) * count_trees(n - m) for m in range(1, n))


def _count_first(n: int) -> int:
    """The trees over a node's first n pictures that can be its first child: not of its own cut."""
    return 1 if n == 1 else count_trees(n) // 2


@lru_cache(maxsize=2)
def _grow_forests(aspects: tuple[float, ...], gap: float) -> dict[tuple[int, int], Forest]:
    """Give all trees over each run of pictures, by its first and its last (not included).

    Those over all pictures at once are left out: their number is most of the whole, and what is
    asked about them is less.
    """
    n = len(aspects)
    grown: dict[tuple[int, int], Forest] = {}
    for i, aspect in enumerate(aspects):
        one, zero = np.ones((1, 1)), np.zeros((1, 1))
        grown[i, i + 1] = Forest(np.array([aspect]), np.zeros(1), one, zero)
    for length in range(2, n):
        for i in range(n - length + 1):
            grown[i, i + length] = _join_runs(grown, i, i + length, gap)
    return grown


def _join_runs(grown: dict[tuple[int, int], Forest], i: int, j: int, gap: float) -> Forest:
    count, leaves = count_trees(j - i), j - i
    joined = Forest(
        np.empty(count), np.empty(count), np.empty((count, leaves)), np.empty((count, leaves))
    )
    start = 0
    for cut, m, one, other in _pair_runs(grown, i, j):
        end, k = start + one.a.size * other.a.size, m - i
        a, b = _pair(one, other, cut, gap)
        joined.a[start:end], joined.b[start:end] = a.ravel(), b.ravel()
        # Views of the whole, so that nothing is copied.
        p = joined.p[start:end].reshape(*a.shape, leaves)
        q = joined.q[start:end].reshape(*a.shape, leaves)
        for child, p_i, q_i in ((one, p[:, :, :k], q[:, :, :k]), (other, p[:, :, k:], q[:, :, k:])):
            if cut is Cut.BESIDE:
                p_i[:], q_i[:] = child.p, child.q
                continue
            # In a stack, child heights are (a h + b - b_i) / a_i.
            np.multiply(child.p, (a / child.a)[:, :, None], out=p_i)
            np.multiply(child.p, ((b - child.b) / child.a)[:, :, None], out=q_i)
            q_i += child.q
        start = end
    return joined


def _pair_runs(
    grown: dict[tuple[int, int], Forest], i: int, j: int
) -> Iterator[tuple[Cut, int, Forest, Forest]]:
    """Give the ways to part a node: its cut, where, all first children, and all that may follow.

    A first child is never of the node's own cut. What follows is one child, or a node of the same
    cut whose children become ours.
    """
    for cut in (Cut.BESIDE, Cut.STACKED):
        for m in range(i + 1, j):
            first = grown[i, m]
            if m - i > 1:
                half = len(first) // 2
                first = first[half:] if cut is Cut.BESIDE else first[:half]
            yield cut, m, first[:, None], grown[m, j][None, :]


def _pair(one: Forest, other: Forest, cut: Cut, gap: float) -> tuple[Floats, Floats]:
    """Give ``a`` and ``b`` of every pair of trees cut one way, shape (one, other)."""
    if cut is Cut.BESIDE:
        return one.a + other.a, one.b + other.b + gap
    a = 1.0 / (1.0 / one.a + 1.0 / other.a)
    return a, a * (one.b / one.a + other.b / other.a - gap)


def _read(i: int, j: int, index: int) -> Tree:
    if j - i == 1:
        return Tree(Cut.LEAF, picture=i)
    half = count_trees(j - i) // 2
    cut = Cut.BESIDE if index < half else Cut.STACKED
    index %= half
    for m in range(i + 1, j):
        follow = count_trees(j - m)
        here = _count_first(m - i) * follow
        if index < here:
            first, rest = divmod(index, follow)
            if m - i > 1 and cut is Cut.BESIDE:
                first += _count_first(m - i)
            head, tail = _read(i, m, first), _read(m, j, rest)
            return Tree(cut, children=(head, *(tail.children if tail.cut is cut else (tail,))))
        index -= here
    raise IndexError(index)


def shape_tree(tree: Tree, aspects: Sequence[float], gap: float) -> Shape:
    """Give a tree's width as an affine function of its height, and so for all its nodes."""
    if tree.cut is Cut.LEAF:
        return Shape(tree, aspects[tree.picture], 0.0, ())
    nodes = tuple(shape_tree(child, aspects, gap) for child in tree.children)
    gaps = (len(nodes) - 1) * gap
    if tree.cut is Cut.BESIDE:
        return Shape(tree, sum(n.a for n in nodes), sum(n.b for n in nodes) + gaps, nodes)
    a = 1.0 / sum(1.0 / n.a for n in nodes)
    return Shape(tree, a, a * (sum(n.b / n.a for n in nodes) - gaps), nodes)


def _place(shape: Shape, gap: float, box: Rect, placed: dict[int, Rect]) -> None:
    if shape.tree.cut is Cut.LEAF:
        placed[shape.tree.picture] = box
        return
    x, y = box.x, box.y
    for child in shape.children:
        if shape.tree.cut is Cut.BESIDE:
            part = Rect(x, y, child.a * box.height + child.b, box.height)
            x = part.right + gap
        else:
            part = Rect(x, y, box.width, (box.width - child.b) / child.a)
            y = part.bottom + gap
        _place(child, gap, part, placed)
