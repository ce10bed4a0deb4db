"""Checks a plan's interleaves against folded paper and story, whoever made it.

Source of the positions: geometry of folding. An interleaf wrapped round the inner m of n sheets
has its leaves after pages 2(n-m) and 2n+2m of its gathering; m = n-d, d sheets lie outside it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.plan.facing import find_gap, list_facing, wants_interleaf
from wayfold.plan.gaps import Gap
from wayfold.plan.model import EndRole, Gathering, Interleaf, InterleafEnd, Plan
from wayfold.story.model import Story

ROLES = {
    Gap.W: {EndRole.WANTED},
    Gap.X: {EndRole.STUB},
    Gap.T: {EndRole.ECHO, EndRole.PLAIN, EndRole.STUB},
    Gap.N: {EndRole.PLAIN, EndRole.STUB},
}
"""What the end of an interleaf may be by the class of its gap: a picture is never covered."""


def check_interleaves(story: Story, plan: Plan) -> Iterator[Finding]:
    """Give a finding for every broken rule; pages, gatherings and choices must be sound."""
    gatherings = {g.number: g for g in plan.gatherings}
    for interleaf in plan.interleaves:
        gathering = gatherings.get(interleaf.gathering)
        if gathering is None:
            yield _broken(f"gathering {interleaf.gathering}", "An interleaf lies in none.")
            continue
        yield from _check_position(interleaf, gathering)
        yield from _check_purpose(interleaf)
        for end in interleaf.ends:
            yield from _check_end(story, plan, interleaf, end)
    yield from _check_gaps(story, plan)


def _check_position(interleaf: Interleaf, gathering: Gathering) -> Iterator[Finding]:
    where, after = f"gathering {gathering.number}", [e.after_page for e in interleaf.ends]
    if interleaf.depth is None:
        first, last = gathering.first_page - 1, gathering.last_page
        if len(after) != 1 or after[0] % 2 or not first <= after[0] <= last:
            yield _broken(where, "A tipped-in leaf lies outside its gathering.")
        return
    inner = gathering.sheets - interleaf.depth
    if not 0 <= inner <= gathering.sheets:
        yield _broken(where, f"An interleaf cannot lie {interleaf.depth} sheets deep.")
        return
    before = gathering.first_page - 1
    n = gathering.sheets
    folded = [before + 2 * (n - inner), before + 2 * n + 2 * inner]
    if after != folded:
        yield _broken(where, f"An interleaf {interleaf.depth} sheets deep lies after {folded}.")


def _check_purpose(interleaf: Interleaf) -> Iterator[Finding]:
    if not any(end.role is EndRole.WANTED for end in interleaf.ends):
        yield _broken(f"gathering {interleaf.gathering}", "An interleaf lies there for nothing.")


def _check_end(
    story: Story, plan: Plan, interleaf: Interleaf, end: InterleafEnd
) -> Iterator[Finding]:
    where = f"after page {end.after_page}"
    if end.role is EndRole.WANTED:
        facing = {p.number: p for p in list_facing(plan, end.after_page)}
        page = facing.get(end.over) if end.over is not None else None
        if page is None or not wants_interleaf(story, plan, page):
            yield _broken(where, "The leaf does not lie over a page it was made for.")
        return
    if end.over is not None:
        yield _broken(where, "Only a leaf that was asked for lies over a page of its own.")
    gap = find_gap(story, plan, end.after_page)
    spare = gap is Gap.W and len({e.after_page for e in interleaf.ends}) < len(interleaf.ends)
    if end.role not in ROLES[gap] and not (spare and end.role is not EndRole.STUB):
        yield _broken(where, f"A leaf there cannot be {end.role}.")


def _check_gaps(story: Story, plan: Plan) -> Iterator[Finding]:
    owners: Counter[int] = Counter()
    for interleaf in plan.interleaves:
        owners.update({end.after_page for end in interleaf.ends})
    for after_page in range(0, len(plan.pages) + 1, 2):
        if owners[after_page] > 1:
            yield _broken(f"after page {after_page}", "Two interleaves lie in one gap.")
        if find_gap(story, plan, after_page) is Gap.W and not owners[after_page]:
            yield _broken(f"after page {after_page}", "The interleaf asked for is missing.")


def _broken(where: str, message: str) -> Finding:
    return Finding("plan-interleaf", Severity.BLOCK, where, message, "Plan the book again.")
