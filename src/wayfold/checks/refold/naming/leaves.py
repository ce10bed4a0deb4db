"""Faults of interleaves: leaves that fall elsewhere, ink on the wrong leaf, face or way up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wayfold.base.findings import Finding
from wayfold.checks.refold.content import FaultKind
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.naming.evidence import block
from wayfold.checks.refold.report import LeafReading
from wayfold.checks.refold.views import Match, Sight, View

AGAIN = "Make the print files again."
EXCHANGED = {1: 3, 2: 4, 3: 1, 4: 2}
"""Which face shows which where front and back of a sheet have changed places."""


@dataclass(frozen=True, slots=True)
class PlannedLeaf:
    """A leaf by the index of its interleaf and its own (from 0)."""

    interleaf: int
    leaf: int


@dataclass(frozen=True, slots=True)
class LeafViews:
    """What was seen on every face of every sheet, and the pages of the two files.

    Faces are numbered 4 k + 1 … 4 k + 4 for sheet k (from 0).
    """

    views: Mapping[int, View]
    sides: int
    pages: int


@dataclass(frozen=True, slots=True)
class LeafEvidence:
    """``pairs`` are the leaves of each sheet; ``fallen`` says after which page each came to lie.

    ``seen`` None: the files of the interleaves were not there.
    """

    folding: Folding
    tolerance: float
    pairs: tuple[tuple[PlannedLeaf, ...], ...]
    fallen: Mapping[PlannedLeaf, int]
    seen: LeafViews | None

    def after(self, leaf: PlannedLeaf) -> int:
        """The page after which the leaf is said to lie."""
        return self.folding.interleaves[leaf.interleaf].after[leaf.leaf]

    def find(self, face: int) -> tuple[PlannedLeaf, str] | None:
        """The leaf and the side of a numbered face; None where no leaf is planned."""
        sheet, rest = divmod(face - 1, 4)
        if sheet >= len(self.pairs) or rest // 2 >= len(self.pairs[sheet]):
            return None
        return self.pairs[sheet][rest // 2], ("recto", "verso")[rest % 2]

    def is_stub(self, face: int) -> bool:
        """Whether the leaf of a numbered face is cut back."""
        found = self.find(face)
        if found is None:
            return False
        return self.folding.interleaves[found[0].interleaf].is_stub(found[0].leaf)

    def name(self, face: int) -> str:
        """How findings name a face."""
        found = self.find(face)
        if found is None:
            return "a half that no leaf is planned for"
        return f"the {found[1]} of the leaf after page {self.after(found[0])}"


def judge_leaves(
    evidence: LeafEvidence,
) -> tuple[tuple[Finding, ...], tuple[LeafReading, ...]]:
    """Name the faults of interleaves, and give a line for every face of every leaf."""
    findings = [*_name_places(evidence)]
    seen = evidence.seen
    if seen is None:
        what = f"The book has {len(evidence.pairs)} translucent sheets, and no print file of them."
        return (*findings, block("interleaves-missing", "interleaves", what, AGAIN)), ()
    findings += _name_counts(evidence, seen)
    explained: set[int] = set()
    for sheet in range(len(evidence.pairs)):
        whole = _name_sheet(seen, sheet)
        if whole is not None:
            findings.append(whole)
            explained.update(range(4 * sheet + 1, 4 * sheet + 5))
    lines = []
    for face in sorted(seen.views):
        found = evidence.find(face)
        view = seen.views[face]
        words = _say(evidence, face, view)
        if found is None and view.sight in (Sight.BLANK, Sight.ABSENT):
            continue
        if found is not None:
            after = evidence.after(found[0])
            lines.append(LeafReading(after, found[1], view.offset, not words, words or "right"))
        if words and face not in explained:
            name = evidence.name(face)
            said = f"{name[:1].upper()}{name[1:]} {words}."
            findings.append(block("interleaf-ink", name, said, AGAIN))
    return tuple(findings), tuple(lines)


def _name_places(evidence: LeafEvidence) -> Iterator[Finding]:
    for index, interleaf in enumerate(evidence.folding.interleaves):
        where = f"interleaf {index + 1}"
        if interleaf.depth is None:
            odd = [a for a in interleaf.after if a % 2 or not 0 <= a <= evidence.folding.pages]
            if odd:
                said = f"A single leaf is to lie after page {odd[0]}, where no two pages face."
                yield block("interleaf-place", where, said, "Plan the book again.")
            continue
        fallen = tuple(evidence.fallen[PlannedLeaf(index, leaf)] for leaf in (0, 1))
        if fallen != interleaf.after:
            yield block(
                "interleaf-place",
                where,
                f"With {interleaf.depth} sheets of gathering {interleaf.gathering} outside it, its "
                f"leaves fall after pages {fallen[0]} and {fallen[1]}, not after "
                f"{interleaf.after[0]} and {interleaf.after[1]} as planned.",
                "Plan the book again.",
            )


def _name_counts(evidence: LeafEvidence, seen: LeafViews) -> Iterator[Finding]:
    wanted = 2 * len(evidence.pairs)
    if seen.sides != wanted:
        said = f"The print file of the interleaves has {seen.sides} sides; {wanted} are needed."
        yield block("interleaf-count", "interleaves", said, AGAIN)
    leaves = sum(len(pair) for pair in evidence.pairs)
    if seen.pages != 2 * leaves:
        said = f"The file of leaves has {seen.pages} pages; {leaves} leaves have {2 * leaves}."
        yield block("interleaf-count", "leaves", said, AGAIN)


def _name_sheet(seen: LeafViews, sheet: int) -> Finding | None:
    """Name a fault of a whole sheet: missing, another's, its sides exchanged, or turned."""
    where = f"interleaf sheet {sheet + 1}"
    views = {n: seen.views[4 * sheet + n] for n in (1, 2, 3, 4)}
    if all(v.sight is Sight.ABSENT for v in views.values()):
        return block("interleaf-missing", where, "It is not in the print file.", AGAIN)
    # What bears ink tells; blank faces are all alike.
    inked = {
        n: [m for m in v.matches if m.turn_deg is not None]
        for n, v in views.items()
        if v.sight is Sight.OTHER
    }
    if not inked:
        return None
    right = sum(v.sight is Sight.RIGHT and is_inked(v) for v in views.values())
    others = {_sheet_of(ms) for ms in inked.values()}
    if len(others) == 1 and not right and (other := others.pop()) not in (None, sheet):
        said = f"Interleaf sheet {(other or 0) + 1} lies in the place of sheet {sheet + 1}."
        return block("interleaf-order", where, said, "Print and stack the sheets in order.")
    if right:
        return None
    exchanged = all(
        any(m.page == 4 * sheet + EXCHANGED[n] and not m.turn_deg for m in ms)
        for n, ms in inked.items()
    )
    if exchanged:
        said = "Its front and back have changed places, so each ink lies on the other leaf."
        return block("interleaf-sides", where, said, AGAIN)
    return None


def is_inked(view: View) -> bool:
    """Whether a face bears something: bare ones are alike, any way up."""
    return any(m.turn_deg is not None for m in view.matches)


def _sheet_of(matches: list[Match]) -> int | None:
    return (matches[0].page - 1) // 4 if matches else None


def _say(evidence: LeafEvidence, face: int, view: View) -> str:
    """What is wrong with a face, in words that follow its name; empty where it is right."""
    match view.sight:
        case Sight.ABSENT:
            return "is not in the print file"
        case Sight.BLANK:
            return "is blank"
        case Sight.UNKNOWN:
            return "bears ink that is none of this book's leaves"
        case Sight.OTHER:
            return _say_other(evidence, view)
    if evidence.is_stub(face) and is_inked(view):
        return "bears ink, and the leaf is cut back to a stub"
    if view.offset is not None and view.offset > evidence.tolerance:
        return f"lies {view.offset:.2f} mm off its place"
    area = sum(f.area for f in view.faults if f.kind is not FaultKind.BLEED)
    return f"has {area:.0f} mm² lost or foreign" if area else ""


def _say_other(evidence: LeafEvidence, view: View) -> str:
    match = view.matches[0]
    stance = " mirrored" if match.mirrored else ""
    stance += f" turned by {match.turn_deg}°" if match.turn_deg else ""
    if match.page == view.number:
        return f"is{stance}"
    return f"bears{stance} what belongs on {evidence.name(match.page)}"
