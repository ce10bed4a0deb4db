"""The plan breaks a rule of paper: a page out of order, a spread off its side or torn apart."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding
from wayfold.checks.subject import Subject
from wayfold.plan.verify import verify_plan


def find_broken_plans(subject: Subject) -> Iterator[Finding]:
    """Let the independent verifier judge the plan, whoever made it."""
    if subject.plan is not None and subject.story is not None:
        yield from verify_plan(subject.story, subject.plan)
