"""Where names go: chosen for all labels at once, and proven best.

Each label has a few candidate places with a cost. Which are taken is an integer programme solved
to optimality: no two labels overlap, as much importance as possible is shown, and of equals the
cheaper places win (J. Christensen, J. Marks & S. Shieber, ACM Transactions on Graphics 14(3),
1995, for the problem; S. Zoraster, Operations Research 38(5), 1990, for solving it exactly).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from wayfold.base.geometry import Rect
from wayfold.maps.shapes import box_of

CLEARANCE = 0.5
"""Labels stay this far (mm) from one another."""
_SHOWN = 1000.0
_COST = 400.0


@dataclass(frozen=True, slots=True)
class Candidate:
    """One place for a label: the box its letters fill, turned clockwise about its middle.

    ``cost`` is 0 for the best place; a place of cost 2.5 is worth as much as no label of
    importance 1.
    """

    box: Rect
    cost: float
    turn_deg: float = 0.0

    @property
    def shape(self) -> shapely.Polygon:
        """The turned box."""
        box = box_of(self.box)
        if not self.turn_deg:
            return box
        return shapely.affinity.rotate(box, self.turn_deg, origin="center")


@dataclass(frozen=True, slots=True)
class Label:
    """The places a label may take, and how much it matters that it is shown."""

    candidates: tuple[Candidate, ...]
    importance: float = 1.0


def place_labels(labels: Sequence[Label]) -> tuple[int | None, ...]:
    """Give the index of the candidate each label takes, or None for one that finds no room."""
    numbers = [(i, k) for i, label in enumerate(labels) for k in range(len(label.candidates))]
    if not numbers:
        return (None,) * len(labels)
    gains = np.array(
        [_SHOWN * labels[i].importance - _COST * labels[i].candidates[k].cost for i, k in numbers]
    )
    useful = [n for n in range(len(numbers)) if gains[n] > 0]
    useful = [
        useful[n] for n in _keep_undominated(labels, [numbers[n] for n in useful], gains[useful])
    ]
    numbers, gains = [numbers[n] for n in useful], gains[useful]
    taken: list[int] = []
    for part in _list_parts(len(numbers), groups := _list_groups(labels, numbers)):
        place = {n: k for k, n in enumerate(part)}
        inside = [[place[n] for n in group] for group in groups if group[0] in place]
        taken += [part[k] for k in _solve(gains[part], inside)]
    chosen: list[int | None] = [None] * len(labels)
    for n in taken:
        i, k = numbers[n]
        chosen[i] = k
    return tuple(chosen)


def _keep_undominated(
    labels: Sequence[Label], numbers: Sequence[tuple[int, int]], gains: Any
) -> list[int]:
    """Give the candidates that some best choice may need.

    A place is never needed where its label has another that is worth as much and is in the way of
    no more; dropping it leaves the best worth as it is, and may free others.
    """
    clash, owner = _find_clashes(labels, numbers)
    own = [np.flatnonzero(owner == i) for i in np.unique(owner)]
    own = [members[np.argsort(-gains[members], kind="stable")] for members in own]
    kept = np.ones(len(numbers), dtype=bool)
    changed = True
    while changed:
        changed = False
        for n, members in enumerate(own):
            against = clash[members] & kept
            more = against.astype(np.float32) @ (~against).T.astype(np.float32)
            # Row a, column b: a is before b and hinders nothing that b does not.
            useless = np.triu(more == 0.0, 1).any(axis=0)
            if useless.any():
                kept[members[useless]] = False
                own[n] = members[~useless]
                changed = True
    return [int(n) for n in np.flatnonzero(kept)]


def _find_clashes(labels: Sequence[Label], numbers: Sequence[tuple[int, int]]) -> tuple[Any, Any]:
    """Give which candidates of different labels cannot both be taken, and whose each is."""
    candidates = [labels[i].candidates[k] for i, k in numbers]
    owner = np.array([i for i, _ in numbers], dtype=int)
    upright = np.array([c.turn_deg == 0.0 for c in candidates], dtype=bool)
    boxes = [c.box.grown(CLEARANCE / 2) for c in candidates]
    x0, y0 = np.array([b.x for b in boxes]), np.array([b.y for b in boxes])
    x1, y1 = np.array([b.right for b in boxes]), np.array([b.bottom for b in boxes])
    clash = (x0[:, None] < x1) & (x0 < x1[:, None]) & (y0[:, None] < y1) & (y0 < y1[:, None])
    clash &= owner[:, None] != owner
    clash &= upright[:, None] & upright
    for n, k in _list_turned_pairs(candidates, owner, upright):
        clash[n, k] = clash[k, n] = True
    return clash, owner


def _list_parts(count: int, groups: Sequence[Sequence[int]]) -> list[list[int]]:
    """Give the candidates in parts that no group joins; each is solved by itself."""
    part = list(range(count))

    def find(n: int) -> int:
        while part[n] != n:
            part[n] = part[part[n]]
            n = part[n]
        return n

    for group in groups:
        for n in group[1:]:
            part[find(n)] = find(group[0])
    found: dict[int, list[int]] = {}
    for n in range(count):
        found.setdefault(find(n), []).append(n)
    return list(found.values())


def rate(labels: Sequence[Label], chosen: Sequence[int | None]) -> float:
    """Give the worth of a choice: what ``place_labels`` makes as large as possible."""
    return sum(
        _SHOWN * label.importance - _COST * label.candidates[k].cost
        for label, k in zip(labels, chosen, strict=True)
        if k is not None
    )


def _list_groups(labels: Sequence[Label], numbers: Sequence[tuple[int, int]]) -> list[list[int]]:
    """Give sets of candidates of which at most one may be taken; they cover every conflict.

    Upright boxes that overlap pairwise share a point (Helly), so the boxes over one point make
    one strong group in place of many pairs.
    """
    candidates = [labels[i].candidates[k] for i, k in numbers]
    owner = np.array([i for i, _ in numbers], dtype=int)
    groups: list[Any] = [np.flatnonzero(owner == i) for i in np.unique(owner)]
    upright = np.array([c.turn_deg == 0.0 for c in candidates], dtype=bool)
    half = CLEARANCE / 2
    boxes = [c.box.grown(half) for c in candidates]
    x0, y0 = np.array([b.x for b in boxes]), np.array([b.y for b in boxes])
    x1, y1 = np.array([b.right for b in boxes]), np.array([b.bottom for b in boxes])
    clash = (x0[:, None] < x1) & (x0 < x1[:, None]) & (y0[:, None] < y1) & (y0 < y1[:, None])
    clash &= owner[:, None] != owner
    clash &= upright[:, None] & upright
    # The corner point (left edge of one, upper edge of the other) of each overlapping pair.
    one, other = np.nonzero(clash)
    points = np.unique(
        np.column_stack([np.maximum(x0[one], x0[other]), np.maximum(y0[one], y0[other])]), axis=0
    )
    over = np.zeros((0, len(boxes)), dtype=bool)
    if len(points):
        px, py = points[:, :1], points[:, 1:]
        over = (x0 <= px) & (px < x1) & (y0 <= py) & (py < y1) & upright
        over = np.unique(over, axis=0)
        over = _drop_subsets(over)
    groups += [np.flatnonzero(row) for row in over]
    groups += _list_turned_pairs(candidates, owner, upright)
    return [[int(n) for n in group] for group in groups if len(group) > 1]


def _drop_subsets(over: Any) -> Any:
    counts = over.sum(axis=1)
    shared = over.astype(np.int32) @ over.T.astype(np.int32)
    inside = (shared == counts[:, None]) & (counts[:, None] < counts)
    return over[~inside.any(axis=1)]


def _list_turned_pairs(
    candidates: Sequence[Candidate], owner: Any, upright: Any
) -> list[list[int]]:
    turned = np.flatnonzero(~upright)
    if not len(turned):
        return []
    shapes = [c.shape for c in candidates]
    tree = shapely.STRtree(shapes)
    pairs = set()
    for n in turned:
        for k in tree.query(shapes[n], predicate="dwithin", distance=CLEARANCE):
            if owner[n] != owner[k]:
                pairs.add((min(int(n), int(k)), max(int(n), int(k))))
    return [list(pair) for pair in sorted(pairs)]


def _solve(gains: Any, groups: Sequence[Sequence[int]]) -> list[int]:
    """Maximise the gains of what is taken, at most one of each group. Exact."""
    if not groups:
        return [n for n in range(len(gains)) if gains[n] > 0]
    import highspy
    from highspy._core import _Highs

    # The public class writes a banner to the terminal when it is made; the one beneath is silent.
    solver = _Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 1e-6)
    lp = highspy.HighsLp()
    count = len(gains)
    lp.num_col_, lp.num_row_ = count, len(groups)
    lp.col_cost_ = -np.asarray(gains, dtype=float)
    lp.col_lower_, lp.col_upper_ = np.zeros(count), np.ones(count)
    lp.row_lower_ = np.full(len(groups), -highspy.kHighsInf)
    lp.row_upper_ = np.ones(len(groups))
    lp.integrality_ = [highspy.HighsVarType.kInteger] * count
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(group) for group in groups)])
    lp.a_matrix_.index_ = np.array([n for group in groups for n in group], dtype=np.int32)
    lp.a_matrix_.value_ = np.ones(sum(len(group) for group in groups))
    solver.passModel(lp)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"the label problem was not solved: {solver.getModelStatus()}")
    values = solver.getSolution().col_value
    return [n for n in range(count) if values[n] > 0.5]


def offer_places(
    x: float, y: float, width: float, height: float, reach: float
) -> tuple[Candidate, ...]:
    """Give the eight places round a mark for a box of letters, and four that lie a little off.

    ``reach`` is the distance from the mark's middle. The order leans on E. Imhof (The American
    Cartographer 2(2), 1975) and P. Yoeli (1972): right before left, above before below; authors
    differ in the rest.
    """
    across, up = reach * 0.75, reach * 0.6
    right, left = x + across, x - across - width
    middle_x, middle_y = x - width / 2, y - height / 2
    above, below = y - up - height, y + up
    lean = height * 0.25
    places = (
        (right, above + lean, 0.0),
        (x + reach, middle_y, 0.1),
        (right, below - lean, 0.15),
        (left, above + lean, 0.2),
        (left, below - lean, 0.25),
        (x - reach - width, middle_y, 0.3),
        (middle_x, y - reach - height, 0.35),
        (middle_x, y + reach, 0.4),
        # The four corners once more, wholly above or below the mark.
        (right, above, 0.06),
        (right, below, 0.21),
        (left, above, 0.26),
        (left, below, 0.31),
    )
    return tuple(Candidate(Rect(a, b, width, height), cost) for a, b, cost in places)


def keep_clear(
    candidates: Iterable[Candidate],
    room: Rect,
    blocked: Sequence[shapely.Geometry],
    crossed: Sequence[tuple[shapely.Geometry, float]] = (),
) -> tuple[Candidate, ...]:
    """Give the candidates that lie in ``room`` and touch nothing ``blocked``.

    Each of ``crossed`` adds its cost to the candidates it runs through, and half as much again
    for every 5 mm of it that they cover.
    """
    kept = []
    frame = box_of(room)
    for candidate in candidates:
        shape = candidate.shape
        if not shapely.covers(frame, shape) or any(shape.intersects(b) for b in blocked):
            continue
        extra = 0.0
        for line, cost in crossed:
            under = shapely.intersection(line, shape)
            if not under.is_empty:
                extra += cost * (1.0 + under.length / 10.0)
        kept.append(Candidate(candidate.box, candidate.cost + extra, candidate.turn_deg))
    return tuple(kept)
