"""The paper planner on stories of many lengths: writes its part of docs/performance.md.

``python -m benchmarks`` measures how long it takes; how good the plans are it adds with ``--long``.
Every figure comes from one process in the same minutes. Seconds are of the processor: the planner
is one thread that waits for nothing, and so what else the machine does hardly counts.

The floor is the least loop of this kind that one could write in plain Python: over the leaves of
the story as it is told, at every place of gatherings of two to five sheets, three choices each, one
addition, one comparison, one look into a dictionary. It knows no order, no white pages and no
interleaves; it says what the machine does with such a loop.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

from benchmarks.planner_baselines import plan_fixed, plan_greedily
from benchmarks.report import write_part
from benchmarks.rows import Effort, Part, Row, fit_power
from benchmarks.stories import BINDING, DENSE, SEEDS, SPARSE, Kind, make_problem
from wayfold.base.findings import blocks
from wayfold.book.planning import PlanChoice
from wayfold.plan.facing import find_gap
from wayfold.plan.gaps import Gap
from wayfold.plan.model import EndRole, InterleafEnd, Plan, PlanResult, Status
from wayfold.plan.offers import turn_dial
from wayfold.plan.planner import solve
from wayfold.plan.problem import PlanProblem, mark_printed
from wayfold.plan.verify import recompute_cost, verify_answer
from wayfold.plan.weigh import weigh_spots
from wayfold.plan.wishes import count_heroes
from wayfold.story.model import Alternative, Block, BlockKind

EDITS = 4  # of each story
SEEDS_OF = {Effort.QUICK: 1, Effort.USUAL: 2, Effort.LONG: len(SEEDS)}
GOALS_S = {"200": 0.15, "400": 0.8, "400 dense": 3.0}
"""What the best plan may take on average."""
EDITED, EDIT_GOAL_S = "120", 0.1
WEIGHED, WEIGHING_GOAL_S = "200", 1.0
CENTRED_SHARE = 0.9
NEVER_WHITE = 1_000_000
T = TypeVar("T")


@dataclass(slots=True)
class Leaves:
    """How the gaps are served that want a leaf, and the heroes that lie at centres."""

    heroes: int = 0
    centred: int = 0
    paired: int = 0
    echoed: int = 0
    plain: int = 0
    tipped: int = 0
    in_vain: int = 0
    """Leaves whose other end bears nothing, or is not there, though a page there would bear a
    caption."""

    @property
    def gaps(self) -> int:
        return self.paired + self.echoed + self.plain + self.tipped

    def count(self, problem: PlanProblem, plan: Plan) -> None:
        heroes, centred = count_heroes(problem.story, plan)
        self.heroes += heroes
        self.centred += centred
        for interleaf in plan.interleaves:
            roles = [end.role for end in interleaf.ends]
            if len(roles) == 1:
                self.tipped += 1
                self.in_vain += could_fold(problem, plan, interleaf.ends[0].after_page)
            elif roles == [EndRole.WANTED, EndRole.WANTED]:
                self.paired += 2
            elif EndRole.ECHO in roles:
                self.echoed += 1
            else:  # plain, cut back, or both leaves at a centre where one was wanted
                self.plain += 1
                self.in_vain += any(bears_caption(problem, plan, end) for end in interleaf.ends)


def bears_caption(problem: PlanProblem, plan: Plan, end: InterleafEnd) -> bool:
    """Whether an end that nobody asked for bears nothing where it might bear a caption."""
    gap = find_gap(problem.story, plan, end.after_page)
    return end.role in (EndRole.PLAIN, EndRole.STUB) and gap is Gap.T


def could_fold(problem: PlanProblem, plan: Plan, after_page: int) -> bool:
    """Whether a leaf pasted in there could be folded, with a caption on its other end."""
    taken = {end.after_page for leaf in plan.interleaves for end in leaf.ends}
    for gathering in plan.gatherings:
        mirrored = gathering.first_page - 1 + gathering.last_page - after_page
        inside = gathering.first_page - 1 <= after_page <= gathering.last_page
        if inside and mirrored not in taken and find_gap(problem.story, plan, mirrored) is Gap.T:
            return True
    return False


@dataclass(slots=True)
class Measured:
    """All that was measured of one kind of story."""

    kind: Kind
    floor: list[float] = field(default_factory=list)
    solving: list[float] = field(default_factory=list)
    weighing: list[float] = field(default_factory=list)
    replanning: list[float] = field(default_factory=list)
    printed: list[float] = field(default_factory=list)
    proven: int = 0
    most_centred: int = 0
    """Heroes that can lie at centres if nothing else counts."""
    costs: dict[str, list[int]] = field(default_factory=dict)
    leaves: dict[str, Leaves] = field(default_factory=dict)

    def judge(self, way: str, problem: PlanProblem, plan: Plan) -> None:
        """Count a plan in, once it is known to keep every rule."""
        broken = [f for f in verify_answer(problem, plan) if blocks((f,))]
        if broken:
            raise SystemExit(f"{self.kind.name}, {way}: {broken[0]}")
        self.costs.setdefault(way, []).append(recompute_cost(problem, plan))
        self.leaves.setdefault(way, Leaves()).count(problem, plan)


def report(effort: Effort) -> Part:
    """Measure all kinds of stories, or two of them; with ``--long`` all stories of each."""
    seeds, quality = range(SEEDS_OF[effort]), effort is Effort.LONG
    kinds = (*SPARSE[:2],) if effort is Effort.QUICK else (*SPARSE, *DENSE)
    measured = [measure(kind, seeds, quality=quality) for kind in kinds]
    if quality:
        write_part("planner quality", list(tell_quality(measured)))
    lines = ["## The paper planner", "", *tell_head(len(seeds)), *tell_times(measured)]
    return Part(tuple(list_rows(measured)), tuple(lines))


def list_rows(measured: Sequence[Measured]) -> Iterator[Row]:
    """Give the rows of the longest books, and of what an edit costs."""
    floor_is = "a bare loop over its leaves and places"
    for m in measured:
        floor, goals = statistics.mean(m.floor), GOALS_S.get(m.kind.name)
        if goals or m is measured[-1]:
            yield Row(
                f"Best plan, proven, {m.kind.name} pages",
                statistics.mean(m.solving), floor, floor_is, "processor s", most=goals,
            )  # fmt: skip
        if m.kind.name == EDITED:
            yield Row(
                f"Plan again after an edit, {m.kind.name} pages",
                statistics.median(m.replanning), floor, floor_is, "processor s", most=EDIT_GOAL_S,
            )  # fmt: skip


def measure(kind: Kind, seeds: Iterable[int], *, quality: bool) -> Measured:
    """Measure one kind; ``quality`` judges the plans beside others, and prices every spot."""
    measured = Measured(kind)
    for seed in seeds:
        problem = make_problem(kind, seed)
        seconds, _ = take(lambda problem=problem: run_floor(problem))  # type: ignore[misc]
        measured.floor.append(seconds)
        seconds, result = take(lambda problem=problem: solve(problem))  # type: ignore[misc]
        measured.solving.append(seconds)
        if result.plan is None:
            raise SystemExit(f"{kind.name}, seed {seed}: no plan")
        measured.proven += result.status is Status.OPTIMAL
        measured.judge("best", problem, result.plan)
        if quality:
            measured.most_centred += count_most_centred(problem)
            measured.judge("heroes first", problem, plan_heroes_first(problem))
            measured.judge("fixed", problem, plan_fixed(problem))
            measured.judge("greedy", problem, plan_greedily(problem))
            seconds, _ = take(lambda p=problem, r=result: weigh_spots(p, r))  # type: ignore[misc]
            measured.weighing.append(seconds)
        replan(measured, problem, result, random.Random(seed))
    return measured


def plan_heroes_first(problem: PlanProblem) -> Plan:
    """Give the best plan where a hero off its centre is as dear as the last plan offered has it."""
    prices = turn_dial(problem.prices, PlanChoice.CENTRED)
    result = solve(replace(problem, prices=prices))
    assert result.plan is not None
    return result.plan


def count_most_centred(problem: PlanProblem) -> int:
    """Give how many heroes can lie at centres, all weighing the same and more than all else.

    Only a white page that nobody expects, or a picture torn by a seam, may not pay for it.
    """
    prices = replace(
        problem.prices,
        hero_inner=5000,
        spread_between=NEVER_WHITE,
        blank_quiet=NEVER_WHITE,
        blank_before_verso=NEVER_WHITE,
    )
    blocks = tuple(replace(b, importance=1) for b in problem.story.blocks)
    story = replace(problem.story, blocks=blocks)
    plan = solve(replace(problem, story=story, prices=prices)).plan
    assert plan is not None
    return count_heroes(story, plan)[1]


def replan(
    measured: Measured, problem: PlanProblem, result: PlanResult, chance: random.Random
) -> None:
    """Plan again after single edits, with nothing printed, and with the first third printed."""
    plan = result.plan
    assert plan is not None
    third = range(1, len(plan.gatherings) // 3 + 1)
    printed = tuple(mark_printed(plan, number) for number in third)
    kept = {p.block for p in plan.pages[: 4 * sum(p.sheets for p in printed)]}
    for _ in range(EDITS):
        edited = edit(chance, problem, plan, frozenset())
        measured.replanning.append(take(lambda e=edited: solve(e))[0])  # type: ignore[misc]
        edited = replace(edit(chance, problem, plan, frozenset(kept)), printed=printed)
        measured.printed.append(take(lambda e=edited: solve(e))[0])  # type: ignore[misc]


def edit(
    chance: random.Random, problem: PlanProblem, plan: Plan, kept: frozenset[str | None]
) -> PlanProblem:
    """Change one block outside ``kept``, as a person at the desk would."""
    told = list(problem.story.blocks)
    free = [at for at, b in enumerate(told) if b.id not in kept]
    pictures = [at for at in free if told[at].kind in (BlockKind.SINGLE, BlockKind.GROUP)]
    at = chance.choice(pictures)
    match chance.randrange(4):
        case 0:
            del told[at]
        case 1:
            told.insert(at, Block("new", BlockKind.SINGLE, (Alternative(1),), told[at].chapter))
        case 2:
            ways = (Alternative(2, spreads=(0,)),)
            told[at] = replace(told[at], kind=BlockKind.HERO, alternatives=ways, importance=3)
        case _:
            longer = tuple(
                a if a.spreads else replace(a, pages=a.pages + 1) for a in told[at].alternatives
            )
            told[at] = replace(told[at], alternatives=longer)
    return replace(problem, story=replace(problem.story, blocks=tuple(told)), last=plan)


def take(work: Callable[[], T]) -> tuple[float, T]:
    """Give the processor's seconds of ``work``, and what it gave."""
    start = time.process_time()
    done = work()
    return time.process_time() - start, done


def run_floor(problem: PlanProblem) -> int:
    """Walk the floor's loop (see above); gives its least sum, so that nothing is left out."""
    pages = sum(block.alternatives[0].pages for block in problem.story.blocks)
    sizes = range(BINDING.sheets_min or 2, (BINDING.sheets_max or 5) + 1)
    places = [(size, at) for size in sizes for at in range(2 * size)]
    prices = (0, 3, 7)
    least = dict.fromkeys(places, 0)
    for leaf in range(pages // 2):
        following: dict[tuple[int, int], int] = {}
        for size, at in places:
            paid = least[size, at]
            ahead = (size, (at + 1) % (2 * size))
            for price in prices:
                cost = paid + price + (leaf & 1)
                if cost < following.get(ahead, 1_000_000):
                    following[ahead] = cost
        least = following
    return min(least.values())


def tell_head(seeds: int) -> list[str]:
    return [
        f"{seeds} stories of each kind (`benchmarks/stories.py`, fixed seeds), gatherings of two "
        "to five sheets, four preferred. Processor seconds of one thread. The floor is a bare loop "
        "over the same leaves and places (`benchmarks/planner.py`).",
        "",
    ]


def tell_times(measured: Sequence[Measured]) -> list[str]:
    lines = [
        "| pages | floor s | plan s, mean (max) | × floor | proven "
        "| one edit ms, median (max) | with a third printed |",
        "|---|--:|--:|--:|--:|--:|--:|",
    ]
    for m in measured:
        floor, solving = statistics.mean(m.floor), statistics.mean(m.solving)
        lines.append(
            f"| {m.kind.name} | {floor:.4f} | {solving:.3f} ({max(m.solving):.3f}) "
            f"| {solving / floor:.0f} | {m.proven / len(m.solving):.0%} "
            f"| {tell_ms(m.replanning)} | {tell_ms(m.printed)} |"
        )
    for name, dense in (("sparse", False), ("dense", True)):
        group = [m for m in measured if m.kind.dense is dense]
        if len(group) > 1:
            grown = fit_power([(m.kind.pages, statistics.mean(m.solving)) for m in group])
            lines += ["", f"Growth, {name}: seconds go with pages to the power of {grown:.2f}."]
    return lines


def tell_goals(measured: Sequence[Measured]) -> Iterator[str]:
    """Say which goals for plans and prices are met."""
    for m in measured:
        best, name = m.leaves["best"], m.kind.name
        if name == WEIGHED:
            judged = "met" if max(m.weighing) <= WEIGHING_GOAL_S else "MISSED"
            yield (
                f"- {name} pages, all prices, each: {max(m.weighing):.3f} s, goal "
                f"{WEIGHING_GOAL_S:g} s: {judged}."
            )
        possible = m.most_centred if m.kind.dense else best.heroes
        share, of = best.centred / possible, "of those that can" if m.kind.dense else "of all"
        judged = "met" if share >= CENTRED_SHARE else "MISSED"
        yield f"- {name} pages, heroes at centres {of}: {share:.1%}, goal 90%: {judged}."
        judged = "met" if not best.in_vain else "MISSED"
        yield f"- {name} pages, leaves in vain: {best.in_vain}, goal 0: {judged}."


def tell_ms(seconds: Sequence[float]) -> str:
    return f"{1000 * statistics.median(seconds):.0f} ({1000 * max(seconds):.0f})"


def tell_quality(measured: Sequence[Measured]) -> list[str]:
    lines = [
        f"How good the plans are: {len(measured[0].solving)} stories of each kind.",
        "",
        *tell_goals(measured),
        "",
        "Heroes at centres, the most that can lie there (each alike, dearer than all else but a "
        "white page nobody expects), how the gaps that want a leaf are served (a book, on "
        "average), and what the plan costs. *In vain*: the other end bears nothing, or is not "
        "there, where it could bear a caption. *Heroes first*: the best where a hero off its "
        "centre is as dear as in the last of the plans offered, which white pages nobody expects "
        "may pay for; priced like the others. *Fixed*: four sheets throughout, all as told. "
        "*Greedy*: gathering by gathering from the left.",
        "",
        "| pages | plan | cost | × best | heroes at centres | most | leaves wanted | in pairs "
        "| echoed | plain | pasted in | in vain |",
        "|---|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|",
    ]
    for m in measured:
        best = statistics.mean(m.costs["best"])
        for way, costs in m.costs.items():
            served, books = m.leaves[way], len(costs)
            counts = (
                served.gaps,
                served.paired,
                served.echoed,
                served.plain,
                served.tipped,
                served.in_vain,
            )
            told = " | ".join(f"{count / books:.1f}" for count in counts)
            share = f"{served.centred / books:.1f} of {served.heroes / books:.0f}"
            lines.append(
                f"| {m.kind.name} | {way} | {statistics.mean(costs):.0f} "
                f"| {statistics.mean(costs) / best:.1f} "
                f"| {share} ({served.centred / served.heroes:.0%}) "
                f"| {m.most_centred / books:.1f} | {told} |"
            )
    return lines
