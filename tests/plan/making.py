"""Small stories for the planner's tests."""

from typing import Any

from wayfold.base.findings import Severity
from wayfold.book.materials import Binding, Paper
from wayfold.plan.model import Plan, PlanResult, Status
from wayfold.plan.planner import solve
from wayfold.plan.problem import PlanProblem
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story

PAGE = Alternative(1)
RECTO = Alternative(1, start=Start.RECTO)
ACROSS = Alternative(2, spreads=(0,))
THIN = Paper(caliper_um=120)


def single(name: str, *ways: Alternative, **fields: Any) -> Block:
    return Block(name, BlockKind.SINGLE, ways or (PAGE,), **fields)


def text(name: str, pages: int, **fields: Any) -> Block:
    """A text: no white page may come before it."""
    return Block(name, BlockKind.TEXT, (Alternative(pages, **fields),))


def hero(name: str, *ways: Alternative, **fields: Any) -> Block:
    return Block(name, BlockKind.HERO, ways or (ACROSS,), importance=1, **fields)


def tell(*blocks: Block) -> Story:
    return Story((), blocks)


def ask(*blocks: Block, sheets: tuple[int, int] | int | None = None, **fields: Any) -> PlanProblem:
    """A problem of these blocks; ``sheets`` is the allowed range or the only number."""
    least, most = (sheets, sheets) if isinstance(sheets, int) or sheets is None else sheets
    binding = Binding(sheets_min=least, sheets_max=most)
    return PlanProblem(tell(*blocks), THIN, binding, **fields)


def plan_of(problem: PlanProblem, result: PlanResult | None = None) -> Plan:
    """Solve and give the plan, once it is proven, keeps every rule and costs what is claimed."""
    result = solve(problem) if result is None else result
    assert result.plan is not None, result.findings
    assert result.status is Status.OPTIMAL
    assert result.bound == result.cost
    broken = [f for f in verify_answer(problem, result.plan) if f.severity is Severity.BLOCK]
    assert broken == []
    assert recompute_cost(problem, result.plan) == result.cost
    return result.plan


def order_of(plan: Plan) -> list[str]:
    return [p.block for p in plan.pages if p.block is not None and p.part == 0]
