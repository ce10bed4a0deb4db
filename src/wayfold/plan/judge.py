"""What a maker should know of a plan's interleaves before cutting translucent sheets."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding, Severity
from wayfold.plan.facing import list_facing, wants_interleaf
from wayfold.plan.model import Plan
from wayfold.story.model import Story


def judge_interleaves(story: Story, plan: Plan) -> Iterator[Finding]:
    """Name gaps where one leaf must serve both pages, and a book crowded with interleaves."""
    leaves = 0
    for interleaf in plan.interleaves:
        leaves += len(interleaf.ends)
        doubled = len({end.after_page for end in interleaf.ends}) < len(interleaf.ends)
        for end in interleaf.ends if not doubled else ():
            facing = list_facing(plan, end.after_page)
            if len(facing) == 2 and all(wants_interleaf(story, plan, page) for page in facing):
                yield Finding(
                    "interleaf-shared",
                    Severity.NOTE,
                    f"pages {end.after_page}-{end.after_page + 1}",
                    "Both ask for an interleaf; one leaf lies between them and serves both.",
                    "Ask for one of them only, if each should have its own.",
                )
    if leaves > len(plan.pages) // 2:
        yield Finding(
            "interleaf-crowd",
            Severity.WARN,
            "plan",
            f"There are more translucent leaves ({leaves}) than leaves of paper "
            f"({len(plan.pages) // 2}): the book will hardly open flat.",
            "Ask for fewer interleaves.",
        )
