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


@pytest.mark.parametrize(
    ("written", "instead", "words"),
    [
        ("sheets = [2, 1]", "sheets = []", "no gathering"),
        ("sheets = [2, 1]", "sheets = [1]", "the sheets have 4 pages"),
        ("first_page = 3", "first_page = 1", "page 1 holds both"),
        ("first_page = 3", "first_page = 10", "ends on page 13"),
        ('id = "text:0"', 'id = "title"', "lies in two places"),
        ("gathering = 1", "gathering = 9", "2 gatherings"),
        ("depth = 1", "depth = 3", "inside 3 sheets"),
        # Two sheets, one of them outside: after pages 2 and 6 (a folded dummy shows it).
        ("after_page = 2", "after_page = 4", "cannot have these ends"),
        ("depth = 1", "", "pasted in but has two ends"),
        ("over = 3", "over = 8", "cannot lie over page 8"),
    ],
)
def test_a_plan_that_contradicts_itself_is_named(
    tmp_path: Path, written: str, instead: str, words: str
) -> None:
    path = tmp_path / "plan.lock.toml"
    write_plan(path, KeptPlan(PLAN, Status.OPTIMAL, 12, 12, "key", printed=(2,)))
    lock = path.read_text(encoding="utf-8")
    assert written in lock
    path.write_text(lock.replace(written, instead, 1), encoding="utf-8")
    with pytest.raises(UserError) as caught:
        read_plan(path)
    assert words in caught.value.what
    assert caught.value.where == "plan.lock.toml"
    assert "delete it" in caught.value.remedy
