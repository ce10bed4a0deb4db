"""plan.lock.toml: the planner's last answer, so that nothing moves by surprise."""

from __future__ import annotations

from pathlib import Path

import tomlkit

from wayfold.plan.model import (
    Gathering,
    Interleaf,
    InterleafEnd,
    Plan,
    PlannedPage,
    PlanResult,
)
from wayfold.project.files import write_whole
from wayfold.project.schema import PLAN_VERSION, InterleafTable, PlanFile
from wayfold.project.toml_edge import check_shape, read_toml

HEAD = "# The last plan. Wayfold writes this file; delete it to have the book planned afresh.\n"


def write_plan(path: Path, result: PlanResult, story_key: str) -> None:
    """Keep a plan made for the story (and paper) whose identity is ``story_key``."""
    if result.plan is None:
        return
    document = tomlkit.document()
    document["version"] = PLAN_VERSION
    document["story"] = story_key
    document["status"] = result.status.value
    document["cost"] = result.cost
    document["bound"] = result.bound
    document["sheets"] = [g.sheets for g in result.plan.gatherings]
    blocks = tomlkit.aot()
    chosen = dict(result.plan.choices)
    for block, pages in _spans(result.plan):
        table = tomlkit.table()
        table.update(
            {
                "id": block,
                "first_page": pages[0],
                "pages": len(pages),
                "alternative": chosen.get(block, 0),
            }
        )
        blocks.append(table)
    document["block"] = blocks
    if result.plan.interleaves:
        interleaves = tomlkit.aot()
        for interleaf in result.plan.interleaves:
            interleaves.append(_describe_interleaf(interleaf))
        document["interleaf"] = interleaves
    write_whole(path, (HEAD + tomlkit.dumps(document)).encode())


def read_plan(path: Path, story_key: str) -> PlanResult | None:
    """Give the kept plan, or None where there is none or it was made for another story.

    Raises UserError for a file that is no plan.
    """
    if not path.is_file():
        return None
    file = check_shape(read_toml(path, path.name, PLAN_VERSION), PlanFile, path, path.name)
    if file.story != story_key:
        return None
    total = 4 * sum(file.sheets)
    pages = [PlannedPage(n, None) for n in range(1, total + 1)]
    for block in file.block:
        for part in range(block.pages):
            number = block.first_page + part
            if number <= total:
                pages[number - 1] = PlannedPage(number, block.id, part)
    gatherings, first = [], 1
    for number, sheets in enumerate(file.sheets, start=1):
        gatherings.append(Gathering(number, sheets, first))
        first += 4 * sheets
    choices = tuple((b.id, b.alternative) for b in file.block)
    interleaves = tuple(_read_interleaf(table) for table in file.interleaf)
    plan = Plan(tuple(pages), tuple(gatherings), choices, interleaves)
    return PlanResult(file.status, plan, file.cost, file.bound)


def _describe_interleaf(interleaf: Interleaf) -> tomlkit.items.Table:
    table = tomlkit.table()
    table["gathering"] = interleaf.gathering
    if interleaf.depth is not None:
        table["depth"] = interleaf.depth
    ends = tomlkit.aot()
    for end in interleaf.ends:
        described = tomlkit.table()
        described["after_page"] = end.after_page
        described["role"] = end.role.value
        if end.over is not None:
            described["over"] = end.over
        ends.append(described)
    table["end"] = ends
    return table


def _read_interleaf(table: InterleafTable) -> Interleaf:
    ends = (InterleafEnd(end.after_page, end.role, end.over) for end in table.end)
    return Interleaf(table.gathering, table.depth, tuple(ends))


def _spans(plan: Plan) -> list[tuple[str, list[int]]]:
    spans: dict[str, list[int]] = {}
    for page in plan.pages:
        if page.block is not None:
            spans.setdefault(page.block, []).append(page.number)
    return list(spans.items())
