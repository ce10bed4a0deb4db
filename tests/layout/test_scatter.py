"""Scattered pictures: the rules in millimetres, and the search against two that miss nothing."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from wayfold.base.geometry import Rect
from wayfold.layout.arrangement import crop_loss
from wayfold.layout.different import differ_truly
from wayfold.layout.modules import MODULE, Modules, Place, divide_box, list_sizes
from wayfold.layout.scatter import arrange_scattered
from wayfold.layout.scatter_beam import NEVER, pick_highest
from wayfold.layout.scatter_judge import (
    count_shared,
    judge_places,
    lines_wanted,
    look_at_white,
    rank_places,
)

BOX = Rect(20.0, 22.0, 168.0, 247.0)
COMMON = [1.5, 0.667, 1.333, 0.75, 1.778, 1.0]
sets = st.lists(
    st.tuples(st.sampled_from(COMMON), st.sampled_from([1.0, 1.1, 1.2])), min_size=2, max_size=6
)


def read_places(modules: Modules, rects) -> list[Place]:
    across, down = modules.module_width, modules.module_height
    return [
        Place(
            round((r.x - modules.box.x) / across),
            round((r.y - modules.box.y) / down),
            round(r.width / across),
            round(r.height / down),
        )
        for r in rects
    ]


def check_rules(aspects, weights, box: Rect, rects, least_side: float) -> None:
    """Every rule, in mm, from the rectangles alone."""
    modules = divide_box(box)
    across, down = modules.module_width, modules.module_height
    for rect, aspect in zip(rects, aspects, strict=True):
        assert box.contains(rect)
        assert min(rect.width, rect.height) >= least_side - 1e-9
        kept = min(aspect, rect.size.aspect) / max(aspect, rect.size.aspect)
        assert kept >= 0.96 - 1e-9
        for edge, start, step in (
            (rect.x, box.x, across),
            (rect.right, box.x, across),
            (rect.y, box.y, down),
            (rect.bottom, box.y, down),
        ):
            assert (edge - start) / step == pytest.approx(round((edge - start) / step), abs=1e-6)
    for a, b in itertools.combinations(rects, 2):
        gap = max(
            (b.x - a.right) / across,
            (a.x - b.right) / across,
            (b.y - a.bottom) / down,
            (a.y - b.bottom) / down,
        )
        assert gap >= 1 - 1e-6
        for one, other, step in (
            (a.x, b.x, across),
            (a.right, b.right, across),
            (a.y, b.y, down),
            (a.bottom, b.bottom, down),
        ):
            apart = abs(one - other) / step
            assert apart < 1e-6 or apart >= 2 - 1e-6
    for edges, low, high, step in (
        ([e for r in rects for e in (r.x, r.right)], box.x, box.right, across),
        ([e for r in rects for e in (r.y, r.bottom)], box.y, box.bottom, down),
    ):
        for edge, side in itertools.product(edges, (low, high)):
            apart = abs(edge - side) / step
            assert apart < 1e-6 or apart >= 2 - 1e-6
    areas = [r.area for r in rects]
    assert 0.45 - 1e-9 <= sum(areas) / box.area <= 0.60 + 1e-9
    heaviest = [a for a, w in zip(areas, weights, strict=True) if w == max(weights)]
    assert max(heaviest) == max(areas) >= 2 * min(areas) - 1e-6
    for (a, w), (b, v) in itertools.permutations(list(zip(areas, weights, strict=True)), 2):
        assert not w > v or a > b


@given(sets, st.integers(0, 200))
@settings(max_examples=15, deadline=None)
def test_every_rule_holds(pictures, seed):
    aspects, weights = [a for a, _ in pictures], [w for _, w in pictures]
    ways = arrange_scattered(aspects, BOX, weights, seed=seed, count=3)
    assert [w.score for w in ways] == sorted((w.score for w in ways), reverse=True)
    for way in ways:
        check_rules(aspects, weights, BOX, way.rects, 28.0)
        assert 0 < way.score <= 1
    for one, other in itertools.combinations(ways, 2):
        assert differ_truly(one.rects, other.rects, BOX)


def test_common_pictures_on_common_boxes_always_find_a_way():
    chance = random.Random(8)
    for n in (2, 3, 4, 5, 6):
        for _ in range(2):
            aspects = [chance.choice(COMMON) for _ in range(n)]
            assert len(arrange_scattered(aspects, BOX, seed=chance.randrange(99), count=2)) == 2


def test_one_seed_one_answer_and_another_another():
    aspects = [1.5, 0.75, 1.333, 1.5, 1.0]
    assert arrange_scattered(aspects, BOX, seed=4) == arrange_scattered(aspects, BOX, seed=4)
    firsts = [
        arrange_scattered(aspects, BOX, seed=s, count=1)[0].rects
        for s in (0, 1, 2, 256, 65536, 1 << 40 | 7)
    ]
    different = [
        one
        for i, one in enumerate(firsts)
        if all(differ_truly(one, other, BOX) for other in firsts[:i])
    ]
    assert len(different) >= 5


def test_lines_are_shared_but_make_no_grid():
    chance = random.Random(3)
    for n in (3, 4, 5, 6):
        counts = []
        for seed in range(4):
            aspects = [chance.choice(COMMON) for _ in range(n)]
            (way,) = arrange_scattered(aspects, BOX, seed=seed, count=1)
            counts.append(count_shared(read_places(divide_box(BOX), way.rects)))
        assert sum(counts) / len(counts) >= 0.6 * lines_wanted(n)


# -- against brute force: a grid so small that all places of all sizes can be tried ------------


@pytest.mark.parametrize(
    ("aspects", "weights", "box"),
    [
        ([1.5, 1.0], [1.0, 1.0], Rect(0, 0, 45, 50)),
        ([1.0, 1.0], [1.2, 1.0], Rect(0, 0, 55, 45)),
        ([1.5, 1.333], [1.0, 1.2], Rect(0, 0, 60, 50)),
        ([1.0, 1.5, 1.0], [1.2, 1.0, 1.0], Rect(0, 0, 50, 45)),
    ],
)
def test_nothing_much_better_was_there_to_find(aspects, weights, box):
    best = max(try_all(aspects, weights, box), default=0.0)
    found = max(
        (
            way.score
            for seed in range(2)
            for way in arrange_scattered(
                aspects, box, weights, seed=seed, count=1, least_side=2 * MODULE
            )
        ),
        default=0.0,
    )
    assert best > 0
    assert 0.95 * best <= found <= best + 1e-9


def try_all(aspects, weights, box: Rect):
    """Scores of every arrangement that keeps the rules, by going through all there are."""
    modules = divide_box(box)
    spots = []
    for aspect in aspects:
        mine = []
        for w, h in itertools.product(range(2, modules.columns + 1), range(2, modules.rows + 1)):
            shape = w * modules.module_width / (h * modules.module_height)
            if min(shape, aspect) / max(shape, aspect) < 0.96:
                continue
            xs = [x for x in range(modules.columns - w + 1) if not_nearly(x, w, modules.columns)]
            ys = [y for y in range(modules.rows - h + 1) if not_nearly(y, h, modules.rows)]
            mine += [Place(x, y, w, h) for x in xs for y in ys]
        spots.append(mine)

    def go_on(chosen):
        k = len(chosen)
        if k == len(aspects):
            areas = [p.area for p in chosen]
            hero = max(a for a, w in zip(areas, weights, strict=True) if w == max(weights))
            pairs = itertools.permutations(zip(areas, weights, strict=True), 2)
            if (
                0.45 * modules.count <= sum(areas) <= 0.6 * modules.count
                and hero == max(areas) >= 2 * min(areas)
                and all(a > b for (a, w), (b, v) in pairs if w > v)
            ):
                yield judge_places(modules, chosen)
            return
        for place in spots[k]:
            if all(go_together(place, other) for other in chosen):
                yield from go_on([*chosen, place])

    return go_on([])


def not_nearly(start: int, length: int, count: int) -> bool:
    return start != 1 and start + length != count - 1


def go_together(a: Place, b: Place) -> bool:
    gap = max(b.x - a.right, a.x - b.right, b.y - a.bottom, a.y - b.bottom)
    like = ((a.x, b.x), (a.right, b.right), (a.y, b.y), (a.bottom, b.bottom))
    return gap >= 1 and all(abs(p - q) != 1 for p, q in like)


# -- against a constraint solver -----------------------------------------------------------------


def solve_lines(aspects, weights, box: Rect, most: int) -> int | None:
    """The most edges on common lines, up to ``most``, by the rules alone; None: there is no way."""
    modules = divide_box(box)
    model = cp_model.CpModel()
    columns, rows = modules.columns, modules.rows
    edges, areas, spans_x, spans_y = [], [], [], []
    for i, aspect in enumerate(aspects):
        table = [
            (w, h, w * h)
            for w, h in itertools.product(range(1, columns + 1), range(1, rows + 1))
            if min(w * modules.module_width, h * modules.module_height) >= 28.0
            and min(aspect, (shape := w * modules.module_width / (h * modules.module_height)))
            / max(aspect, shape)
            >= 0.96
        ]
        w, h = model.new_int_var(1, columns, f"w{i}"), model.new_int_var(1, rows, f"h{i}")
        area = model.new_int_var(1, columns * rows, f"a{i}")
        model.add_allowed_assignments([w, h, area], table)
        side_x = cp_model.Domain.from_intervals([[0, 0], [2, columns - 2], [columns, columns]])
        side_y = cp_model.Domain.from_intervals([[0, 0], [2, rows - 2], [rows, rows]])
        x, right = (model.new_int_var_from_domain(side_x, f"{e}{i}") for e in "xr")
        y, bottom = (model.new_int_var_from_domain(side_y, f"{e}{i}") for e in "yb")
        model.add(x + w == right)
        model.add(y + h == bottom)
        # One module more than the picture: so much white lies between two.
        spans_x.append(model.new_interval_var(x, w + 1, right + 1, f"sx{i}"))
        spans_y.append(model.new_interval_var(y, h + 1, bottom + 1, f"sy{i}"))
        edges.append((x, right, y, bottom))
        areas.append(area)
    model.add_no_overlap_2d(spans_x, spans_y)
    model.add_linear_constraint(
        sum(areas), -(-45 * columns * rows // 100), 60 * columns * rows // 100
    )
    hero = weights.index(max(weights))
    smallest = model.new_int_var(1, columns * rows, "least")
    model.add_min_equality(smallest, areas)
    model.add(areas[hero] >= 2 * smallest)
    for i, j in itertools.permutations(range(len(aspects)), 2):
        if weights[i] > weights[j]:
            model.add(areas[i] > areas[j])
    shared = []
    for kind in range(4):
        for j in range(1, len(aspects)):
            like = []
            for i in range(j):
                apart = model.new_int_var(-300, 300, "")
                model.add(apart == edges[j][kind] - edges[i][kind])
                model.add(apart != 1)
                model.add(apart != -1)
                same = model.new_bool_var("")
                model.add(apart == 0).only_enforce_if(same)
                like.append(same)
            any_like = model.new_bool_var("")
            model.add_bool_or(like).only_enforce_if(any_like)
            shared.append(any_like)
    counted = model.new_int_var(0, most, "counted")
    model.add(counted <= sum(shared))
    model.maximize(counted)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 20.0
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return solver.value(counted)


@pytest.mark.parametrize(
    ("aspects", "weights"),
    [
        ([1.5, 1.0, 0.75], [1.2, 1.1, 1.0]),
        ([1.5, 0.75, 1.333, 1.0], [1.1, 1.3, 1.0, 1.2]),
        ([1.5, 0.667, 1.5, 1.0, 1.333], [1.0, 1.2, 1.0, 1.1, 1.0]),
    ],
)
def test_as_many_lines_are_shared_as_a_solver_can_prove(aspects, weights):
    wanted = lines_wanted(len(aspects))
    proven = solve_lines(aspects, weights, BOX, wanted)
    ways = [way for seed in range(4) for way in arrange_scattered(aspects, BOX, weights, seed=seed)]
    counts = [count_shared(read_places(divide_box(BOX), way.rects)) for way in ways]
    assert proven is not None
    assert max(min(c, wanted) for c in counts) == proven
    assert ways[0].score > 0.8


def test_where_no_way_is_found_a_solver_proves_that_there_is_none():
    narrow = Rect(0, 0, 90, 120)
    none = 0
    for aspects in ([1.5, 1.5, 1.5], [0.667, 1.778, 0.667], [1.5, 1.5], [1.778, 1.778, 1.778, 1.5]):
        weights = [1.2] + [1.0] * (len(aspects) - 1)
        found = any(arrange_scattered(aspects, narrow, weights, seed=s) for s in range(3))
        assert found == (solve_lines(aspects, weights, narrow, 1) is not None)
        none += not found
    assert none


# -- white -----------------------------------------------------------------------------------------


def test_white_by_hand():
    modules = Modules(Rect(0, 0, 60, 60), 12, 12)
    # Above and below a band of four: 12 x 4 open each, and at the band's right 12 - 8 = 4 x 4.
    assert look_at_white(modules, [Place(0, 4, 8, 4)]).largest == 12 * 12 - 8 * 4
    # A band across parts the white.
    parted = look_at_white(modules, [Place(0, 3, 12, 5)])
    assert (parted.largest, parted.trapped) == (12 * 4, 0)
    # Four pictures round a hole of 4 x 4.
    hole = [Place(0, 0, 8, 4), Place(8, 0, 4, 8), Place(4, 8, 8, 4), Place(0, 4, 4, 8)]
    assert look_at_white(modules, hole).trapped == 16
    # A passage of three modules is no open white.
    assert look_at_white(modules, [Place(0, 0, 9, 12)]).largest == 0


@pytest.mark.parametrize(
    ("aspects", "weights"),
    [([1.5], None), ([1.5] * 7, None), ([1.5, -1.0], None), ([1.5, 1.0], [1.0])],
)
def test_what_cannot_be_scattered_is_refused(aspects, weights):
    with pytest.raises(ValueError, match="cannot scatter"):
        arrange_scattered(aspects, BOX, weights)


@given(st.lists(st.integers(-3, 6) | st.just(NEVER), min_size=1, max_size=60), st.integers(1, 70))
@settings(max_examples=80, deadline=None)
def test_of_equals_the_earlier_is_picked(values, count):
    """So that the order in which a machine happens to part equals changes nothing."""
    ranked = sorted(range(len(values)), key=lambda i: (-values[i], i))
    expected = [i for i in ranked if values[i] > NEVER][:count]
    assert list(pick_highest(np.array(values, dtype=np.int16), count)) == expected


@given(st.integers(0, 10_000), st.integers(2, 6))
@settings(max_examples=30, deadline=None)
def test_ranked_are_all_judged_and_sorted(seed, count):
    # Against judging every one, and sorting, which keeps equals in their order.
    chance = random.Random(seed)
    modules = Modules(BOX, 33, 49)
    candidates = []
    for _ in range(60):
        places = []
        for _ in range(count):
            x, y = chance.randrange(28), chance.randrange(42)
            width, height = chance.randint(3, 33 - x), chance.randint(3, 49 - y)
            places.append(Place(x, y, width, height))
        candidates.append(tuple(places))
    judged = [(places, round(judge_places(modules, places), 9)) for places in candidates]
    best = sorted((one for one in judged if one[1] > 0), key=lambda one: -one[1])
    assert list(rank_places(modules, candidates)) == best


@given(
    st.floats(0.3, 4.0),
    st.floats(5.0, 60.0),
    st.floats(0.01, 0.2),
    st.floats(0.05, 0.9),
)
@settings(max_examples=60, deadline=None)
def test_sizes_are_those_of_trying_every_one(aspect, least_side, least, most):
    modules = divide_box(BOX)
    across, down = modules.module_width, modules.module_height
    tried = {
        (w, h)
        for w in range(1, modules.columns + 1)
        for h in range(1, modules.rows + 1)
        if least * modules.count <= w * h <= most * modules.count
        and min(w * across, h * down) >= least_side
        and crop_loss(aspect, w * across / (h * down)) <= 0.04
    }
    sizes = list_sizes(modules, aspect, least_side, least, most)
    assert set(sizes) == tried
    assert [w * h for w, h in sizes] == sorted((w * h for w, h in sizes), reverse=True)


@given(sets, st.data())
@settings(deadline=None, max_examples=25)
def test_a_picture_that_may_lose_nothing_is_whole_and_misses_no_line(pictures, data):
    aspects, weights = zip(*pictures, strict=True)
    # Shapes that no place of whole modules has.
    aspects = [aspect * 1.013 for aspect in aspects]
    limits = data.draw(
        st.lists(st.sampled_from([0.0, 0.01, 0.04]), min_size=len(aspects), max_size=len(aspects))
    )
    modules = divide_box(BOX)
    for way in arrange_scattered(aspects, BOX, weights, limits=limits):
        for rect, aspect, limit in zip(way.rects, aspects, limits, strict=True):
            assert BOX.contains(rect)
            kept = min(aspect, rect.size.aspect) / max(aspect, rect.size.aspect)
            assert kept >= 1 - limit - 1e-5
        for a, b in itertools.permutations([*way.rects, BOX], 2):
            for one, other, step in (
                (a.x, b.x, modules.module_width),
                (a.right, b.right, modules.module_width),
                (a.y, b.y, modules.module_height),
                (a.bottom, b.bottom, modules.module_height),
            ):
                # Two modules lie between lines; less than one is left free in a place.
                apart = abs(one - other) / step
                assert apart < 1e-6 or apart > 1 - 1e-6


def test_pictures_that_may_lose_nothing_are_scattered_too():
    for aspects in itertools.combinations([1.51, 0.66, 1.34, 0.77, 1.27], 3):
        assert arrange_scattered(aspects, BOX, limits=[0.0] * 3), aspects
