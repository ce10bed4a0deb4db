"""plan.lock.toml gives back the plan it was given."""

from pathlib import Path

import pytest

from wayfold.base.errors import UserError
from wayfold.plan.model import (
    EndRole,
    Gathering,
    Interleaf,
    InterleafEnd,
    Plan,
    PlannedPage,
    Status,
)
from wayfold.project.plan_file import KeptPlan, read_plan, write_plan

PLAN = Plan(
    pages=(
        PlannedPage(1, "title"),
        PlannedPage(2, None),
        *(PlannedPage(n, "text:0", n - 3) for n in range(3, 7)),
        PlannedPage(7, None),
        PlannedPage(8, None),
        *(PlannedPage(n, None) for n in range(9, 13)),
    ),
    gatherings=(Gathering(1, 2, 1), Gathering(2, 1, 9)),
    choices=(("title", 0), ("text:0", 1)),
    interleaves=(
        Interleaf(1, 1, (InterleafEnd(2, EndRole.WANTED, 3), InterleafEnd(6, EndRole.ECHO))),
        Interleaf(2, None, (InterleafEnd(10, EndRole.WANTED, 11),)),
    ),
)


def test_a_plan_comes_back_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "plan.lock.toml"
    kept = KeptPlan(PLAN, Status.OPTIMAL, 12, 12, "key", printed=(2,))
    write_plan(path, kept)
    assert read_plan(path) == kept
    assert read_plan(tmp_path / "none.toml") is None


def test_a_spoilt_plan_is_named(tmp_path: Path) -> None:
    path = tmp_path / "plan.lock.toml"
    path.write_text("version = 1\nstory = 3\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"plan\.lock\.toml"):
        read_plan(path)
