"""The one table of figures and floors: how it judges, and how time is shared out among stages."""

from __future__ import annotations

import ast
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from benchmarks.__main__ import PARTS, measure
from benchmarks.rows import Effort, Failed, Part, Row, fit_power, tell_rows
from benchmarks.stacked import Bar, draw_bars
from benchmarks.timeline import END, sum_stages

HOME = Path(__file__).parents[2] / "benchmarks"
SPANS = [
    ("Reading photographs", 1.0, 2.0),
    ("Looking at the photographs", 2.5, 4.0),
    ("Preparing pictures for print", 6.0, 9.0),
    ("Writing the files", 9.5, 12.0),
    ("Drawing case.pdf", 10.0, 10.5),
    (END, 12.5, 12.5),
]


@pytest.mark.parametrize("power", [-1.0, 0.0, 1.0, 1.5, 3.0])
def test_a_power_is_found(power: float) -> None:
    points = [(x, 0.02 * x**power) for x in (48, 96, 200, 400)]
    assert fit_power(points) == pytest.approx(power)


def test_a_power_is_fitted_as_numpy_fits_it() -> None:
    points = [(48, 0.9), (96, 1.1), (200, 1.9), (400, 2.4)]
    xs, ys = np.log(points).T
    assert fit_power(points) == pytest.approx(np.polyfit(xs, ys, 1)[0])


@pytest.mark.parametrize(
    ("row", "met"),
    [
        (Row("a", 2.0, 1.0, "b"), None),
        (Row("a", 2.0, 1.0, "b", most_times=2.0), True),
        (Row("a", 2.0, 1.0, "b", most_times=1.9), False),
        (Row("a", 2.0, 1.0, "b", most=1.9), False),
        (Row("a", 2.0, 1.0, "b", most=2.0, most_times=1.0), False),
    ],
)
def test_goals_are_judged(row: Row, met: bool | None) -> None:
    assert row.met is met


def test_a_row_has_its_ratio_and_a_failed_one_its_reason() -> None:
    rows = [Row("a", 3.0, 2.0, "b", "ms", most_times=1.25), Failed("c", "no |\n room")]
    lines = list(tell_rows(rows))
    assert lines[2] == "| a | 3.00 ms | 2.00 ms | b | 1.50 | ≤ 1.25 × floor | **no** |"
    assert lines[3] == "| c | | | | | | **not measured**: no ¦ room |"
    assert len({line.count("|") for line in lines}) == 1


def test_a_part_that_fails_is_a_row(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_: Effort) -> Part:
        raise SystemExit("the floor did not make its pictures")

    monkeypatch.setattr("benchmarks.washes.report", fail)
    found = measure("washes", Effort.QUICK)
    assert found == Failed("washes", "SystemExit: the floor did not make its pictures")


def test_every_part_can_report() -> None:
    """Read, not loaded: that takes seconds."""
    for name in PARTS:
        tree = ast.parse((HOME / f"{name}.py").read_text("utf-8"))
        (report,) = (n for n in tree.body if isinstance(n, ast.FunctionDef) and n.name == "report")
        assert [argument.arg for argument in report.args.args] == ["effort"]


def test_time_is_shared_out_among_stages() -> None:
    """Half a second passed before the first clock: all that has a name later lies that much on."""
    shared = sum_stages(SPANS, 13.0)
    assert shared == pytest.approx(
        {
            "starting": 1.5,
            "reading": 1.0,
            "looking": 2.0,
            "planning and layout": 2.0,
            "print pictures": 3.0,
            "bench papers": 0.5,
            "checks": 0.5,
            "writing": 2.5,
        }
    )
    assert sum(shared.values()) == pytest.approx(13.0)


def test_bars_are_as_long_as_their_time() -> None:
    bars = [Bar("one", {"reading": 1.0, "looking": 3.0}), Bar("two", {"writing": 2.0})]
    drawn = ElementTree.fromstring(draw_bars("Where & when", [bars]))
    boxes = [
        float(box.attrib["width"])
        for box in drawn.iter("{http://www.w3.org/2000/svg}rect")
        if len(box)
    ]
    assert [width / boxes[0] for width in boxes] == pytest.approx([1.0, 3.0, 2.0], rel=1e-3)
