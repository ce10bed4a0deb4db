"""How many sheets a gathering may have: what the paper's thickness and the person allow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from wayfold.base.findings import Finding, Severity
from wayfold.base.units import mm_from_um
from wayfold.book.materials import Binding, Paper
from wayfold.plan.model import Gathering

PREFERRED_CLOSED_UM = 1000
"""A good closed gathering: the middle of 0.8-1.2 mm, which is what the sheet counts of Indiana
University's Book Repair Manual come to (copy paper 4-5 sheets, hardback leaf 3-4, heavy 2-3)."""
COMFORTABLE_CLOSED_UM = 1200
"""The thick end of the same range."""
CEILING_CLOSED_UM = 1650
"""0.065 in: the thickest section oversewing libraries take, of bulky paper (Roberts & Etherington,
"section")."""
HEAVY_PAPER_SHEETS = 3
"""Heavy paper may go to three sheets, as in Indiana's table, while it stays under the ceiling."""
PREFERRED_SHEETS_MAX = 6
SHEETS_MAX = 8
"""However thin the paper: Indiana's table ends at 6 sheets, trade practice at 8."""


@dataclass(frozen=True, slots=True)
class SheetRange:
    """The sheets a gathering may have, and how many suit it best.

    ``thinner_alone`` says whether a book of one gathering may have fewer than ``least``.
    """

    least: int
    most: int
    preferred: int
    thinner_alone: bool = True

    @property
    def sizes(self) -> tuple[int, ...]:
        """All allowed numbers of sheets, ascending."""
        return tuple(range(self.least, self.most + 1))

    def sizes_for(self, gatherings: int) -> tuple[int, ...]:
        """The numbers of sheets allowed in a book of so many gatherings."""
        thin = range(1, self.least) if gatherings == 1 and self.thinner_alone else range(0)
        return (*thin, *self.sizes)


def closed_thickness(sheets: int, caliper_um: float) -> float:
    """Give the thickness in mm of a closed gathering: two leaves a sheet."""
    return mm_from_um(2 * sheets * caliper_um)


def allow_sheets(paper: Paper, binding: Binding) -> tuple[SheetRange | None, tuple[Finding, ...]]:
    """Say how many sheets a gathering may have; None where nothing is possible, with the reason."""
    if not paper.caliper_um > 0:
        return None, (_no_caliper(paper),)
    asked = (binding.sheets_min, binding.sheets_max, binding.sheets_preferred)
    if any(n is not None and n < 1 for n in asked):
        return None, (_impossible("A gathering has at least one sheet.", "Ask for 1 or more."),)
    by_caliper = _most_by_caliper(paper.caliper_um)
    most = binding.sheets_max or max(by_caliper, binding.sheets_min or 1)
    least = binding.sheets_min or min(2, most)
    if least > most:
        message = f"Gatherings of at least {least} and at most {most} sheets cannot be."
        return None, (_impossible(message, "Lower sheets_min or raise sheets_max."),)
    wanted = binding.sheets_preferred or _preferred_by_caliper(paper.caliper_um)
    preferred = min(max(wanted, least), most)
    findings = []
    if binding.sheets_preferred not in (None, preferred):
        findings.append(_preference_out_of_range(wanted, least, most, preferred))
    if closed_thickness(1, paper.caliper_um) > mm_from_um(CEILING_CLOSED_UM):
        findings.append(_too_heavy(paper))
    alone = binding.sheets_min is None
    return SheetRange(least, most, preferred, alone), tuple(findings)


def find_thick_gatherings(gatherings: Sequence[Gathering], paper: Paper) -> tuple[Finding, ...]:
    """Name the gatherings that are thicker closed than sewing can well hold."""
    ceiling = mm_from_um(CEILING_CLOSED_UM)
    return tuple(
        Finding(
            "gathering-thickness",
            Severity.WARN,
            f"gathering {g.number}",
            f"{g.sheets} sheets of {paper.caliper_um:g} µm make {thickness:.2f} mm when closed; "
            f"over {ceiling:.2f} mm the folds gape and the inner leaves pull at the thread.",
            "Use fewer sheets in a gathering, or thinner paper.",
        )
        for g in gatherings
        if g.sheets > 1 and (thickness := closed_thickness(g.sheets, paper.caliper_um)) > ceiling
    )


def _most_by_caliper(caliper_um: float) -> int:
    comfortable = int(COMFORTABLE_CLOSED_UM // (2 * caliper_um))
    ceiling = int(CEILING_CLOSED_UM // (2 * caliper_um))
    return max(1, min(max(comfortable, min(HEAVY_PAPER_SHEETS, ceiling)), SHEETS_MAX))


def _preferred_by_caliper(caliper_um: float) -> int:
    return max(2, min(int(PREFERRED_CLOSED_UM // (2 * caliper_um)), PREFERRED_SHEETS_MAX))


def _impossible(message: str, remedy: str) -> Finding:
    return Finding("gathering-sheets", Severity.BLOCK, "binding", message, remedy)


def _no_caliper(paper: Paper) -> Finding:
    return _impossible(
        f"The paper's thickness is given as {paper.caliper_um:g} µm.",
        "Measure ten sheets together, divide by ten, and write that as caliper_um.",
    )


def _preference_out_of_range(wanted: int, least: int, most: int, taken: int) -> Finding:
    return Finding(
        "gathering-sheets",
        Severity.WARN,
        "binding",
        f"{wanted} sheets in a gathering are preferred, but {least} to {most} are allowed; "
        f"{taken} was taken.",
        "Set sheets_min or sheets_max too, or leave sheets_preferred out.",
    )


def _too_heavy(paper: Paper) -> Finding:
    return Finding(
        "gathering-thickness",
        Severity.WARN,
        "paper",
        f"One folded sheet of {paper.caliper_um:g} µm is already "
        f"{closed_thickness(1, paper.caliper_um):.2f} mm thick: too heavy to fold and sew well. "
        "Single sheets were planned.",
        "Measure the thickness again, or use thinner paper.",
    )
