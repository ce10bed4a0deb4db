"""A gathering is thicker, closed, than a fold can hold and a thread should bear."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.findings import Finding
from wayfold.checks.subject import Subject
from wayfold.plan import gatherings


def find_thick_gatherings(subject: Subject) -> Iterator[Finding]:
    """Name gatherings over the ceiling that planning keeps to, whoever made the plan."""
    if subject.plan is not None:
        yield from gatherings.find_thick_gatherings(subject.plan.gatherings, subject.book.paper)
