"""The maker's numbers of case, sewing and pocket: what they are, what is usual, what they move."""

from __future__ import annotations

import enum
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from wayfold.app.session import Session
from wayfold.app.stages import Results
from wayfold.base.errors import NotFoundError, UserError
from wayfold.book.casing import (
    Back,
    CaseStyle,
    PocketItem,
    Practice,
    SewingMethod,
    SpinePiece,
    SpineTurn,
)
from wayfold.book.edits import SetPocketItems
from wayfold.book.materials import Source
from wayfold.book.state import Book
from wayfold.case.reckoning import find_moved, reckon_figures
from wayfold.case.settings import SETTINGS
from wayfold.plan.model import Plan
from wayfold.project.settings import check_setting

Value = float | str | bool | None
Kind = Literal["number", "choice", "switch", "words"]


@dataclass(frozen=True, slots=True)
class MeasureView:
    """A number or a choice of the maker's, by its key in book.toml.

    ``start`` is what a book starts from; a value of None follows from other numbers. ``usual`` and
    ``source`` are empty where nobody says what is usual. ``moves`` names the figures that become
    others with it.
    """

    key: str
    group: str
    kind: Kind
    unit: str
    value: Value
    start: Value
    options: tuple[str, ...]
    usual: str
    source: str
    moves: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PocketItemView:
    """Something for the pocket, as it stands there."""

    name: str
    width_mm: float
    height_mm: float
    thickness_mm: float


CHOICES: Mapping[str, type[enum.StrEnum]] = {
    "paper.caliper_source": Source,
    "sewing.method": SewingMethod,
    "case.style": CaseStyle,
    "case.back": Back,
    "case.spine": SpinePiece,
    "case.spine_turn": SpineTurn,
    "bench.hand": Practice,
}
GROUPS: Mapping[str, tuple[str, ...]] = {
    "block": (
        "paper.caliper_um",
        "paper.caliper_source",
        "translucent.caliper_um",
        "case.endpaper_um",
        "case.pressed_factor",
        "case.block_mm",
    ),
    "sewing": (
        "sewing.method",
        "sewing.thread_lea",
        "sewing.thread_ply",
        "sewing.thread_mm",
        "sewing.swell_factor",
        "sewing.kettle_mm",
        "sewing.spaces",
        "sewing.tapes",
        "sewing.tape_mm",
    ),
    "case": (
        "case.style",
        "case.board_mm",
        "case.square_mm",
        "case.board_less_mm",
        "case.joint_mm",
        "case.back",
        "case.spine",
        "case.card_mm",
    ),
    "covering": (
        "case.turn_in_mm",
        "case.mitre_factor",
        "case.cloth_on_board_mm",
        "case.overlap_mm",
        "case.mull_beyond_mm",
        "case.pastedown_margin_mm",
    ),
    "cover": ("case.spine_turn", "case.photo", "case.route"),
    "pocket": ("pocket.strip_um",),
    "hands": ("bench.hand",),
    "costs": (
        "costs.money",
        "costs.paper_sheet",
        "costs.translucent_sheet",
        "costs.ink_ml",
        "costs.thread_m",
    ),
}
"""The keys that are set at the desk, by what they are about."""
KEYS = frozenset(key for keys in GROUPS.values() for key in keys)
ANOTHER = 7.77
"""Some other number, to see what a number that is not given would move."""


def list_measures(results: Results) -> tuple[MeasureView, ...]:
    """Give all numbers and choices that matter to this book."""
    book, plan = results.book, results.plan
    before = reckon_figures(book, plan)
    usual = {setting.key: setting for setting in SETTINGS}
    views = []
    for group, keys in GROUPS.items():
        for key in keys:
            if not _matters(book, plan, key):
                continue
            value, setting = _read(book, key), usual.get(key)
            after = (reckon_figures(other, plan) for other in _list_others(book, key, value))
            moved = dict.fromkeys(name for figures in after for name in find_moved(before, figures))
            views.append(
                MeasureView(
                    key=key,
                    group=group,
                    kind=_find_kind(key),
                    unit=_find_unit(key),
                    value=_plain(value),
                    start=_plain(_read(Book(""), key)),
                    options=tuple(option.value for option in CHOICES.get(key, ())),
                    usual=setting.range if setting else "",
                    source=setting.source if setting else "",
                    moves=tuple(moved),
                )
            )
    return tuple(views)


def try_measure(results: Results, key: str, value: float | None) -> Results:
    """Give the results as they would be with another number, to look at before it is kept.

    A number that cannot stand there is passed over: it may be on the way to one that can.
    """
    if key not in KEYS or _find_kind(key) != "number":
        return results
    if value is None:
        value = _read(Book(""), key)
    try:
        kept = None if value is None else check_setting(key, value)
    except UserError:
        return results
    table, name = key.split(".")
    field = {name.removesuffix("_mm"): kept}
    holder = replace(_find_holder(results.book, table), **field)
    return replace(results, book=_put_back(results.book, table, holder))


def set_measure(session: Session, key: str, value: Value) -> None:
    """Give a number or choice a new value; None returns to what a book starts from.

    Raises NotFoundError for a key there is none of, UserError for what cannot stand there.
    """
    if key not in KEYS:
        raise NotFoundError(f"There is no measure {key}.")
    kept = None if value is None else check_setting(key, value)
    table, name = key.split(".")
    session.settle({table: {name: kept}})


def set_pocket(session: Session, items: tuple[PocketItemView, ...]) -> None:
    """Say what goes into the pocket; nothing at all makes a book without one."""
    session.edit(
        SetPocketItems(
            tuple(PocketItem(i.name, i.width_mm, i.height_mm, i.thickness_mm) for i in items)
        )
    )


def _matters(book: Book, plan: Plan, key: str) -> bool:
    casing, sewing = book.bench.casing, book.bench.sewing
    tapes = sewing.method is SewingMethod.TAPES
    pieces = casing.style in (CaseStyle.QUARTER_CLOTH, CaseStyle.THREE_PIECE)
    return {
        "translucent.caliper_um": bool(plan.interleaves),
        "costs.translucent_sheet": bool(plan.interleaves),
        "sewing.thread_lea": sewing.thread is None,
        "sewing.thread_ply": sewing.thread is None,
        "sewing.spaces": not tapes,
        "sewing.tapes": tapes,
        "sewing.tape_mm": tapes,
        "case.card_mm": casing.spine is SpinePiece.CARD,
        "case.cloth_on_board_mm": pieces,
        "case.overlap_mm": pieces,
        "case.photo": casing.style is not CaseStyle.FULL_CLOTH,
        "case.route": casing.style is not CaseStyle.FULL_CLOTH,
        "pocket.strip_um": bool(book.bench.pocket.items),
    }.get(key, True)


def _find_kind(key: str) -> Kind:
    if key in CHOICES:
        return "choice"
    if key == "case.route":
        return "switch"
    return "words" if key in ("case.photo", "costs.money") else "number"


def _find_unit(key: str) -> str:
    return {"mm": "mm", "um": "µm"}.get(key.rpartition("_")[2], "")


def _read(book: Book, key: str) -> Any:
    table, name = key.split(".")
    return getattr(_find_holder(book, table), name.removesuffix("_mm"))


def _find_holder(book: Book, table: str) -> Any:
    bench = book.bench
    return {
        "paper": book.paper,
        "translucent": book.translucent,
        "case": bench.casing,
        "sewing": bench.sewing,
        "pocket": bench.pocket,
        "costs": bench.costs,
        "bench": bench,
    }[table]


def _list_others(book: Book, key: str, value: Any) -> Iterator[Book]:
    """Give the book with other values: every other choice, or one other number."""
    table, name = key.split(".")
    others: list[Any]
    if key in CHOICES:
        others = [option for option in CHOICES[key] if option is not value]
    elif _find_kind(key) != "number" or table == "costs":
        return
    elif isinstance(value, int) or key in ("sewing.spaces", "sewing.tapes"):
        others = [(value or 7) + 1]
    else:
        others = [ANOTHER if value is None else 1.1 * value + 0.1]
    holder = _find_holder(book, table)
    for other in others:
        changed = replace(holder, **{name.removesuffix("_mm"): other})
        yield _put_back(book, table, changed)


def _put_back(book: Book, table: str, holder: Any) -> Book:
    if table in ("paper", "translucent"):
        return replace(book, **{table: holder})
    if table == "bench":
        return replace(book, bench=holder)
    field = "casing" if table == "case" else table
    return replace(book, bench=replace(book.bench, **{field: holder}))


def _plain(value: Any) -> Value:
    plain: Value = value.value if isinstance(value, enum.Enum) else value
    return plain
