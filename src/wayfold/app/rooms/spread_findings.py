"""What is wrong on two facing pages, and with which thing on them: quick enough for every edit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from wayfold.app.rooms.spread_views import FindingView, FrameView
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.checks.rules import check_pages
from wayfold.checks.subject import Subject
from wayfold.layout.model import BookLayout


def find_faults(
    results: Results, pages: Sequence[int], frames: Sequence[FrameView]
) -> tuple[FindingView, ...]:
    """Give what the stages and the checks say of ``pages`` alone, on which ``frames`` stand."""
    layout = results.layout
    here = BookLayout(tuple(p for p in layout.pages if p.number in pages))
    subject = Subject(
        book=results.book,
        photos=results.photos,
        story=results.story,
        plan=results.plan,
        words=results.words,
        layout=here,
        sets=results.sets,
        drawings=tuple(results.drawings[n - 1] for n in pages),
        earlier=tuple(_keep_those_of(_tell_earlier(results), pages)),
        washes=tuple(w for w in results.washes if w.page in pages),
    )
    return tuple(
        FindingView(
            finding.rule,
            finding.severity,
            finding.message,
            finding.remedy,
            page=finding.pages[0],
            frame=_find_frame(finding, frames),
        )
        for finding in check_pages(subject)
        if set(finding.pages) & set(pages)
    )


def _tell_earlier(results: Results) -> tuple[Finding, ...]:
    """Give what the stages found that speak of pages; the case's would cost a second."""
    planned = results.planned.result.findings
    return (*planned, *results.words.findings, *results.layout.findings, *results.unclear)


def _keep_those_of(findings: Iterable[Finding], pages: Sequence[int]) -> Iterator[Finding]:
    for finding in findings:
        if set(finding.pages) & set(pages):
            yield finding


def _find_frame(finding: Finding, frames: Sequence[FrameView]) -> str | None:
    """Give the thing that a finding is about, by the name of the photograph or text in it."""
    for frame in frames:
        here = frame.page in finding.pages
        photo = frame.picture.photo if frame.picture else None
        if here and finding.about in (photo, frame.id.partition("@")[0]):
            return frame.id
    return None
