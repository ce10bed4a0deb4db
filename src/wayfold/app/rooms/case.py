"""The room for the case: the maker's numbers, what follows from them, and what speaks against."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.app.rooms.case_measures import MeasureView, PocketItemView, list_measures
from wayfold.app.stages import Results
from wayfold.base.findings import Finding
from wayfold.case.reckoning import Figure, reckon_figures


@dataclass(frozen=True, slots=True)
class CaseView:
    """The case by its numbers; ``measured`` says whether the sewn block was."""

    style: str
    measured: bool
    measures: tuple[MeasureView, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    pocket: tuple[PocketItemView, ...]


def view_case_room(results: Results) -> CaseView:
    """Give the case of a book."""
    work = results.case
    return CaseView(
        style=work.case.casing.style.value,
        measured=work.block.measured is not None,
        measures=list_measures(results),
        figures=reckon_figures(results.book, results.plan),
        findings=work.findings,
        pocket=tuple(
            PocketItemView(i.name, i.width, i.height, i.thickness)
            for i in results.book.bench.pocket.items
        ),
    )
