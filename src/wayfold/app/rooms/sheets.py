"""The room for the sheets: how each stands, and the marks that a person makes on the ledger."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from wayfold.app.ledger import is_made, mark_sheets, take_back_marks, view_ledger
from wayfold.app.ledger_ahead import foresee_ledger
from wayfold.app.ledger_compare import LedgerView, SheetState, SheetView
from wayfold.app.made import inputs_key, read_made
from wayfold.app.make import make_book
from wayfold.app.rooms.sheets_sides import find_sides
from wayfold.app.session import Session
from wayfold.app.work import Work
from wayfold.base.errors import ConflictError
from wayfold.press.model import PressSheet, SheetSide
from wayfold.press.signatures import signature_of

Freshness = Literal["never", "outdated", "current"]
Material = Literal["paper", "translucent"]
MAKING = "Making the print files"


@dataclass(frozen=True, slots=True)
class SideView:
    """A side as it goes to the printer, its pages from left to right with their heads up.

    ``turned``: it is printed with the heads at the foot. ``key`` changes with what it shows.
    """

    pages: tuple[int, ...]
    turned: bool
    key: str


@dataclass(frozen=True, slots=True)
class SheetCard:
    """A sheet: ``name`` is what it is marked by ("2.1", "i3"), the rest how it stands.

    ``gathering`` is None for translucent sheets that are cut and tipped in; ``index`` counts from
    the outside, and for a translucent sheet says how many paper sheets lie round it.
    """

    name: str
    label: str
    material: Material
    gathering: int | None
    index: int
    front: SideView
    back: SideView
    state: SheetState
    day: str | None
    reasons: tuple[str, ...]
    ignored: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetsView:
    """All sheets in the order of printing, and what the print files are.

    ``proven``: the states were told by the print files; otherwise they are what the book as it is
    now would come to, and marks cannot be made. ``aspect`` is a paper sheet's width by its height,
    as it lies in the printer; ``gatherings`` how many sheets each has, and
    ``signatures`` the letters on their spines.
    """

    freshness: Freshness
    proven: bool
    sheets: tuple[SheetCard, ...]
    gatherings: tuple[int, ...]
    signatures: tuple[str, ...]
    outgrown: tuple[str, ...]
    saved_sheets: int
    saved_ink_ml: float
    aspect: float
    leaf_aspect: float
    feed: str
    duplex: str
    printer: str
    paper: str
    translucent: str
    ignore_shift: float
    ignore_marks: bool


def view_sheets(session: Session) -> SheetsView:
    """Give all sheets of the open book, and how each stands."""
    freshness = judge_print_files(session)
    if freshness == "current":
        ledger = view_ledger(session.folder.root)
    else:
        ledger = foresee_ledger(session.folder, session.results)
    return _show(session, ledger, freshness)


def judge_print_files(session: Session) -> Freshness:
    """Tell whether the print files are those of the book as it is now."""
    made = read_made(session.folder)
    if not is_made(session.folder, made):
        return "never"
    now = inputs_key(session.folder, session.results.book.photographs, marks=False)
    return "current" if made.content == now else "outdated"


def mark(session: Session, names: Sequence[str], *, printed: bool) -> SheetsView:
    """Note that sheets lie printed, or free them; ``names`` as ``mark_sheets`` takes them.

    Raises ConflictError while the print files are not those of the book as it is now: what lies
    printed would be noted as something else.
    """
    with session.hold():
        _require_current(session)
        ledger = mark_sheets(session.folder.root, names, printed=printed)
        return _show(session, ledger, "current")


def take_back(session: Session) -> SheetsView:
    """Take the last marking back."""
    with session.hold():
        _require_current(session)
        return _show(session, take_back_marks(session.folder.root), "current")


def pass_over(session: Session, shift: float, *, marks: bool) -> SheetsView:
    """Set what changes do not count: pages ``shift`` mm elsewhere at most, and ``marks``."""
    session.settle({"printed": {"ignore_shift_mm": shift, "ignore_marks": marks}})
    return view_sheets(session)


def start_making(session: Session) -> Work:
    """Make the print files, as work that can be watched and stopped; once at a time."""
    for work in session.work.works:
        if work.name == MAKING and work.state in ("waiting", "going on"):
            return work
    root, memory = session.folder.root, session.memory
    return session.work.start(MAKING, lambda progress: make_book(root, progress, memory))


def _require_current(session: Session) -> None:
    if judge_print_files(session) != "current":
        raise ConflictError(
            "The print files are not those of the book as it is now.",
            remedy="Make them first: then what you mark is what is noted as printed.",
        )


def _show(session: Session, ledger: LedgerView, freshness: Freshness) -> SheetsView:
    results = session.results
    book = results.book
    standing = {sheet.label: sheet for sheet in ledger.sheets}
    cards = tuple(_list_cards(session, standing))
    leaf = results.interleaf_sheets[0].size if results.interleaf_sheets else results.sheets[0].size
    size = results.sheets[0].size
    return SheetsView(
        freshness=freshness,
        proven=freshness == "current",
        sheets=cards,
        gatherings=tuple(gathering.sheets for gathering in results.plan.gatherings),
        signatures=tuple(signature_of(gathering.number) for gathering in results.plan.gatherings),
        outgrown=ledger.outgrown,
        saved_sheets=ledger.saved.sheets,
        saved_ink_ml=ledger.saved.ink_ml,
        aspect=size.width / size.height,
        leaf_aspect=leaf.width / leaf.height,
        feed=book.printer.feed.value,
        duplex=book.printer.duplex.value,
        printer=book.printer.name,
        paper=book.paper.name,
        translucent=book.translucent.name,
        ignore_shift=book.reprinting.ignore_shift,
        ignore_marks=book.reprinting.ignore_marks,
    )


def _list_cards(session: Session, standing: dict[str, SheetView]) -> Iterator[SheetCard]:
    plan, sides = session.results.plan, find_sides(session)
    for name, inked in sides.by_name.items():
        sheet = inked.sheet
        view = standing.get(sheet.label) or SheetView(sheet.label, "", 0, SheetState.UNPRINTED)
        if isinstance(sheet, PressSheet):
            place: tuple[int | None, int] = (sheet.gathering, sheet.index)
            pages = [tuple(slot.page for slot in s.slots) for s in (sheet.front, sheet.back)]
        else:
            after = tuple(plan.interleaves[i].ends[end].after_page for i, end in sheet.leaves)
            interleaf = plan.interleaves[sheet.leaves[0][0]]
            place = (interleaf.gathering, interleaf.depth or 0) if sheet.folded else (None, 0)
            pages = [after[::-1], after]
        front, back = (
            SideView(shown, _is_turned(side), sides.keys[name, side.name])
            for side, shown in zip((sheet.front, sheet.back), pages, strict=True)
        )
        yield SheetCard(
            name,
            sheet.label,
            "paper" if isinstance(sheet, PressSheet) else "translucent",
            *place,
            front,
            back,
            view.state,
            view.day,
            view.reasons,
            view.ignored,
        )


def _is_turned(side: SheetSide) -> bool:
    return any(slot.transform.d < 0 for slot in side.slots)
