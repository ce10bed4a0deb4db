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
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from wayfold.base.geometry import Rect

MOST_PICTURES = 10
Floats = npt.NDArray[np.float64]


class Cut(enum.Enum):
    """What a node of a tree is."""

    LEAF = "leaf"
    BESIDE = "beside"
    STACKED = "stacked"


@dataclass(frozen=True, slots=True)
class Forest:
    """All trees over the pictures ``first`` to ``last`` (not included) whose root is of one kind.

    ``a``, ``b``: shape (trees,); ``p``, ``q``: shape (trees, pictures).
    """

    a: Floats
    b: Floats
    p: Floats
    q: Floats

    def __len__(self) -> int:
        return len(self.a)


@dataclass(frozen=True, slots=True)
class Tree:
    """One tree: a picture by its index, or children cut one way."""

    cut: Cut
    picture: int = -1
    children: tuple[Tree, ...] = ()


@lru_cache(maxsize=2)
def grow_forests(aspects: tuple[float, ...], gap: float) -> tuple[Forest, ...]:
    """Give all canonical trees over ``aspects`` (width over height, in order), gaps ``gap`` mm.

    One forest for n = 1; else two: roots side by side, then roots stacked. Raises ValueError for
    no pictures, more than ``MOST_PICTURES``, or an aspect that is not positive.
    """
    n = len(aspects)
    if not 1 <= n <= MOST_PICTURES or min(aspects) <= 0:
        raise ValueError(f"cannot arrange {n} pictures of aspects {aspects}")
    grown: dict[tuple[int, int, Cut], Forest] = {}
    for i, aspect in enumerate(aspects):
        one, zero = np.ones((1, 1)), np.zeros((1, 1))
        grown[i, i + 1, Cut.LEAF] = Forest(np.array([aspect]), np.zeros(1), one, zero)
    for length in range(2, n + 1):
        for i in range(n - length + 1):
            j = i + length
            for cut in (Cut.BESIDE, Cut.STACKED):
                grown[i, j, cut] = _join_all(grown, i, j, cut, gap)
    if n == 1:
        return (grown[0, 1, Cut.LEAF],)
    return grown[0, n, Cut.BESIDE], grown[0, n, Cut.STACKED]


def read_tree(n: int, root: int, index: int) -> Tree:
    """Give the tree that lies at ``index`` of forest ``root`` that ``grow_forests`` gives."""
    cut = Cut.LEAF if n == 1 else (Cut.BESIDE, Cut.STACKED)[root]
    return _read(0, n, cut, index)


def place_tree(tree: Tree, aspects: Sequence[float], gap: float, box: Rect) -> tuple[Rect, ...]:
    """Give each picture's rectangle, the tree as large as ``box`` allows, at its top left corner.

    Every rectangle keeps its aspect exactly; siblings and gaps add up to their parent.
    """
    a, b = _affine(tree, aspects, gap)
    height = min(box.height, (box.width - b) / a)
    placed: dict[int, Rect] = {}
    _place(tree, aspects, gap, Rect(box.x, box.y, a * height + b, height), placed)
    return tuple(placed[i] for i in range(len(aspects)))


def count_trees(n: int) -> int:
    """Give how many canonical trees there are over n pictures in order."""
    if n == 1:
        return 1
    return _count(n, Cut.BESIDE) + _count(n, Cut.STACKED)


def _splits(i: int, j: int, cut: Cut) -> list[tuple[int, Cut, Cut]]:
    """The ways to part a node: its first child (never of its own cut), and what follows."""
    other = Cut.STACKED if cut is Cut.BESIDE else Cut.BESIDE
    ways = []
    for m in range(i + 1, j):
        first = Cut.LEAF if m - i == 1 else other
        # What follows is one child, or a node of the same cut whose children become ours.
        rests = (Cut.LEAF,) if j - m == 1 else (other, cut)
        ways += [(m, first, rest) for rest in rests]
    return ways


def _join_all(
    grown: dict[tuple[int, int, Cut], Forest], i: int, j: int, cut: Cut, gap: float
) -> Forest:
    """Give all trees over the pictures ``i`` to ``j`` (not included) whose root is a ``cut``."""
    count, leaves = _count(j - i, cut), j - i
    joined = Forest(
        np.empty(count), np.empty(count), np.empty((count, leaves)), np.empty((count, leaves))
    )
    start = 0
    for m, first, rest in _splits(i, j, cut):
        one, other = grown[i, m, first], grown[m, j, rest]
        end = start + len(one) * len(other)
        # Views of the whole, so that nothing is copied.
        part = Forest(
            joined.a[start:end].reshape(len(one), len(other)),
            joined.b[start:end].reshape(len(one), len(other)),
            joined.p[start:end].reshape(len(one), len(other), leaves),
            joined.q[start:end].reshape(len(one), len(other), leaves),
        )
        _join(one, other, cut, gap, part)
        start = end
    return joined


def _join(first: Forest, rest: Forest, cut: Cut, gap: float, into: Forest) -> None:
    """Write every pair of trees, cut one way, ``into`` arrays of shape (first, rest, ...)."""
    a1, b1 = first.a[:, None], first.b[:, None]
    a2, b2 = rest.a[None, :], rest.b[None, :]
    k = first.p.shape[1]
    (p1, p2), (q1, q2) = ((whole[:, :, :k], whole[:, :, k:]) for whole in (into.p, into.q))
    if cut is Cut.BESIDE:
        into.a[:], into.b[:] = a1 + a2, b1 + b2 + gap
        p1[:], q1[:] = first.p[:, None, :], first.q[:, None, :]
        p2[:], q2[:] = rest.p[None, :, :], rest.q[None, :, :]
        return
    a = 1.0 / (1.0 / a1 + 1.0 / a2)
    b = a * (b1 / a1 + b2 / a2 - gap)
    into.a[:], into.b[:] = a, b
    # In a stack, child heights are (a h + b - b_i) / a_i.
    for a_i, b_i, p_i, q_i, p, q in (
        (a1, b1, first.p[:, None, :], first.q[:, None, :], p1, q1),
        (a2, b2, rest.p[None, :, :], rest.q[None, :, :], p2, q2),
    ):
        np.multiply(p_i, (a / a_i)[:, :, None], out=p)
        np.multiply(p_i, ((b - b_i) / a_i)[:, :, None], out=q)
        q += q_i


@lru_cache(maxsize=64)
def _count(length: int, cut: Cut) -> int:
    if length == 1:
        return 1
    return sum(
        _count(m, first) * _count(length - m, rest) for m, first, rest in _splits(0, length, cut)
    )


def _read(i: int, j: int, cut: Cut, index: int) -> Tree:
    if cut is Cut.LEAF:
        return Tree(Cut.LEAF, picture=i)
    for m, first, rest in _splits(i, j, cut):
        follow = _count(j - m, rest)
        here = _count(m - i, first) * follow
        if index < here:
            head = _read(i, m, first, index // follow)
            tail = _read(m, j, rest, index % follow)
            return Tree(cut, children=(head, *(tail.children if rest is cut else (tail,))))
        index -= here
    raise IndexError(index)


def _affine(tree: Tree, aspects: Sequence[float], gap: float) -> tuple[float, float]:
    if tree.cut is Cut.LEAF:
        return aspects[tree.picture], 0.0
    nodes = [_affine(child, aspects, gap) for child in tree.children]
    gaps = (len(nodes) - 1) * gap
    if tree.cut is Cut.BESIDE:
        return sum(a for a, _ in nodes), sum(b for _, b in nodes) + gaps
    a = 1.0 / sum(1.0 / a for a, _ in nodes)
    return a, a * (sum(b / a for a, b in nodes) - gaps)


def _place(
    tree: Tree, aspects: Sequence[float], gap: float, box: Rect, placed: dict[int, Rect]
) -> None:
    if tree.cut is Cut.LEAF:
        placed[tree.picture] = box
        return
    x, y = box.x, box.y
    for child in tree.children:
        a, b = _affine(child, aspects, gap)
        if tree.cut is Cut.BESIDE:
            part = Rect(x, y, a * box.height + b, box.height)
            x = part.right + gap
        else:
            part = Rect(x, y, box.width, (box.width - b) / a)
            y = part.bottom + gap
        _place(child, aspects, gap, part, placed)
