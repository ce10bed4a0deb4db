"""plan.lock.toml: the planner's last answer, so that nothing moves by surprise."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import tomlkit

from wayfold.base.errors import UserError
from wayfold.disk.placing import write_whole
from wayfold.plan.model import (
    Gathering,
    Interleaf,
    InterleafEnd,
    Plan,
    PlannedPage,
    Status,
)
from wayfold.project.files import BookFolder
from wayfold.project.journal import Journal
from wayfold.project.plan_soundness import require_sound_plan
from wayfold.project.schema import PLAN_VERSION, InterleafTable, PlanFile
from wayfold.project.toml_edge import check_shape, parse_toml

HEAD = (
    "# The last plan, and which of its gatherings are printed. Wayfold writes this file;\n"
    "# `wayfold plan --afresh` plans without regard to it, save for what is printed.\n"
)


PLANS_KNOWN = 8
"""So many are remembered as read: the last is read at every edit, and seldom another."""


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan as it is kept: made for what ``story_key`` is the identity of.

    ``printed`` are the numbers of its gatherings that lie printed.
    """

    plan: Plan
    status: Status
    cost: int
    bound: int
    story_key: str
    printed: tuple[int, ...] = ()


def write_plan(path: Path, kept: KeptPlan) -> None:
    """Keep a plan."""
    plan = kept.plan
    document = tomlkit.document()
    document["version"] = PLAN_VERSION
    document["story"] = kept.story_key
    document["status"] = kept.status.value
    document["cost"] = kept.cost
    document["bound"] = kept.bound
    document["sheets"] = [g.sheets for g in plan.gatherings]
    if kept.printed:
        document["printed"] = list(kept.printed)
    blocks = tomlkit.aot()
    chosen = dict(plan.choices)
    for block, pages in _spans(plan):
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
    if plan.interleaves:
        interleaves = tomlkit.aot()
        for interleaf in plan.interleaves:
            interleaves.append(_describe_interleaf(interleaf))
        document["interleaf"] = interleaves
    write_whole(path, (HEAD + tomlkit.dumps(document)).encode())


def read_plan(path: Path) -> KeptPlan | None:
    """Give the kept plan, or None where there is none. Raises UserError for a file that is none."""
    return _read_plan(path, path.read_bytes()) if path.is_file() else None


@lru_cache(maxsize=PLANS_KNOWN)
def _read_plan(path: Path, content: bytes) -> KeptPlan:
    data = parse_toml(content, path.name, PLAN_VERSION)
    file = check_shape(data, PlanFile, path, path.name)
    require_sound_plan(file, path.name)
    pages = [PlannedPage(n, None) for n in range(1, 4 * sum(file.sheets) + 1)]
    for block in file.block:
        for part in range(block.pages):
            number = block.first_page + part
            pages[number - 1] = PlannedPage(number, block.id, part)
    gatherings, first = [], 1
    for number, sheets in enumerate(file.sheets, start=1):
        gatherings.append(Gathering(number, sheets, first))
        first += 4 * sheets
    choices = tuple((b.id, b.alternative) for b in file.block)
    interleaves = tuple(_read_interleaf(table) for table in file.interleaf)
    plan = Plan(tuple(pages), tuple(gatherings), choices, interleaves)
    known = {gathering.number for gathering in gatherings}
    printed = tuple(sorted(known & set(file.printed)))
    return KeptPlan(plan, file.status, file.cost, file.bound, file.story, printed)


def find_kept(folder: BookFolder, story_key: str) -> Iterator[KeptPlan]:
    """Give the plans that were kept for a story before, the latest first, as history has them."""
    for content in Journal(folder).list_earlier(folder.plan_file):
        if f'story = "{story_key}"'.encode() in content:
            with contextlib.suppress(UserError):  # Of another version, or spoilt: passed over.
                yield _read_plan(folder.plan_file, content)


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
