"""What the maker does with the printed sheets: the paper, the turn of the backs, the fold."""

from __future__ import annotations

import enum
import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from wayfold.base.errors import UserError
from wayfold.base.geometry import Affine, Size
from wayfold.base.units import mm_from_um


class Turning(enum.StrEnum):
    """The edge a sheet turns about between printing its front and its back."""

    SHORT_EDGE = "short-edge"
    LONG_EDGE = "long-edge"
    MANUAL = "manual"
    """The person turns the stack about its short edge and feeds it again."""


class DrawnIn(enum.StrEnum):
    """In which order the printer draws in the pile of fronts that was turned as one."""

    SAME = "same"
    REVERSED = "reversed"


@dataclass(frozen=True, slots=True)
class FoldedInterleaf:
    """A translucent sheet: folded round part of a gathering, or a single leaf tipped in.

    ``depth`` paper sheets of gathering ``gathering`` (from 1) lie outside it; None for a single
    leaf. ``after`` are the pages after which its leaves are said to lie, the first leaf first;
    ``stubs`` says of each whether it is cut back to a strip, ``mirrored`` whether its faces are
    printed mirrored, each on the side of the other, to be read through the sheet.
    """

    gathering: int
    depth: int | None
    after: tuple[int, ...]
    stubs: tuple[bool, ...] = ()
    mirrored: tuple[bool, ...] = ()

    def is_mirrored(self, leaf: int) -> bool:
        """Whether leaf ``leaf`` (from 0) is read through the sheet."""
        return leaf < len(self.mirrored) and self.mirrored[leaf]

    def is_stub(self, leaf: int) -> bool:
        """Whether leaf ``leaf`` (from 0) is cut back."""
        return leaf < len(self.stubs) and self.stubs[leaf]

    def to_json(self) -> dict[str, Any]:
        """Give it as plain values."""
        return {
            "gathering": self.gathering,
            "depth": self.depth,
            "after": list(self.after),
            "stubs": list(self.stubs),
            "mirrored": list(self.mirrored),
        }


@dataclass(frozen=True, slots=True)
class Folding:
    """Everything about the paper that the proof needs to know.

    ``trim``, ``sheet`` and ``bleed`` in mm (``sheet`` any way up); ``gatherings`` gives the
    sheets of each gathering in order; ``creep_coefficient`` multiplies the paper's thickness;
    ``trim_fore_edge`` says whether the fore edges are cut flush; ``interleaves`` are folded into
    the gatherings, of two at one depth the one named first outside. ``front_lands`` and
    ``back_lands`` say where the printer puts what the file has on a side, each in its own sheet
    space. ``veiled_grey`` (0-255): nothing seen through a translucent leaf is as dark in the
    reading file. Raises UserError for numbers that no paper has.
    """

    trim: Size
    sheet: Size
    gatherings: tuple[int, ...]
    turning: Turning = Turning.SHORT_EDGE
    bleed: float = 3.0
    caliper_um: float = 240.0
    creep_coefficient: float = 1.2
    trim_fore_edge: bool = True
    interleaves: tuple[FoldedInterleaf, ...] = ()
    interleaf_caliper_um: float = 90.0
    drawn_in: DrawnIn = DrawnIn.SAME
    front_lands: Affine = Affine()
    back_lands: Affine = Affine()
    veiled_grey: float = 130.0

    def __post_init__(self) -> None:
        lengths = (*_sides(self.trim), *_sides(self.sheet))
        if not all(math.isfinite(v) and v > 0 for v in lengths):
            raise _wrong("the trim and the sheet need a width and a height above 0 mm")
        rest = (self.bleed, self.caliper_um, self.creep_coefficient, self.interleaf_caliper_um)
        if not all(math.isfinite(v) and v >= 0 for v in rest):
            raise _wrong("bleed, caliper and creep coefficient cannot be below 0")
        if not self.gatherings or min(self.gatherings) < 1:
            raise _wrong("every gathering has at least one sheet, and there is at least one")
        for interleaf in self.interleaves:
            self._check_interleaf(interleaf)

    def _check_interleaf(self, interleaf: FoldedInterleaf) -> None:
        if not 1 <= interleaf.gathering <= len(self.gatherings):
            raise _wrong(
                f"an interleaf lies in gathering {interleaf.gathering}, which is not there"
            )
        sheets = self.gatherings[interleaf.gathering - 1]
        if interleaf.depth is not None and not 0 <= interleaf.depth <= sheets:
            raise _wrong(f"an interleaf has {interleaf.depth} of {sheets} sheets outside it")
        leaves = 1 if interleaf.depth is None else 2
        if len(interleaf.after) != leaves:
            raise _wrong(f"an interleaf has {len(interleaf.after)} leaves; {leaves} are possible")

    @property
    def sheets(self) -> int:
        """All sheets of the book."""
        return sum(self.gatherings)

    @property
    def pages(self) -> int:
        """All pages of the book, four a sheet."""
        return 4 * self.sheets

    def creep(self, papers: int, interleaves: int = 0) -> float:
        """How far (mm) a sheet stands out at the fore edge with so many folded round it.

        e = c * sum of the thicknesses outside it; c is 1 for hard folds and pi/2 where every fold
        is a half circle about the stack (geometry of nested folds).
        """
        outside_um = papers * self.caliper_um + interleaves * self.interleaf_caliper_um
        return self.creep_coefficient * mm_from_um(outside_um)

    def to_json(self) -> dict[str, Any]:
        """Give the folding as plain values."""
        return {
            "trim_mm": _sides(self.trim),
            "sheet_mm": _sides(self.sheet),
            "gatherings": list(self.gatherings),
            "turning": self.turning.value,
            "bleed_mm": self.bleed,
            "caliper_um": self.caliper_um,
            "creep_coefficient": self.creep_coefficient,
            "trim_fore_edge": self.trim_fore_edge,
            "interleaves": [i.to_json() for i in self.interleaves],
            "interleaf_caliper_um": self.interleaf_caliper_um,
            "drawn_in": self.drawn_in.value,
            "front_lands": _numbers(self.front_lands),
            "back_lands": _numbers(self.back_lands),
            "veiled_grey": self.veiled_grey,
        }

    @staticmethod
    def from_json(values: Mapping[str, Any] | str) -> Folding:
        """Read what ``to_json`` gives, or the text of a JSON file of it. Raises UserError."""
        try:
            data = json.loads(values) if isinstance(values, str) else values
        except json.JSONDecodeError as error:
            raise _wrong(f"not JSON ({error})") from error
        if not isinstance(data, Mapping):
            raise _wrong("expected an object with keys")
        unknown = sorted(set(data) - set(_KEYS))
        if unknown:
            raise _wrong(f"unknown key {unknown[0]!r}; the keys are {', '.join(_KEYS)}")
        key = ""
        try:
            given: dict[str, Any] = {}
            for key, (name, read) in _KEYS.items():
                if key in data:
                    given[name] = read(data[key])
        except (TypeError, ValueError) as error:
            raise _wrong(f"{key}: {data[key]!r} cannot be used ({error})") from error
        missing = [k for k in ("trim_mm", "sheet_mm", "gatherings") if k not in data]
        if missing:
            raise _wrong(f"{missing[0]} is missing")
        return Folding(**given)


def _sides(size: Size) -> list[float]:
    return [size.width, size.height]


def _numbers(map_: Affine) -> list[float]:
    return [map_.a, map_.b, map_.c, map_.d, map_.e, map_.f]


def _affine(value: Any) -> Affine:
    a, b, c, d, e, f = (float(v) for v in value)
    if not all(math.isfinite(v) for v in (a, b, c, d, e, f)) or abs(a * d - b * c) < 0.5:
        raise ValueError("no printer does this to a side")
    return Affine(a, b, c, d, e, f)


def _size(value: Any) -> Size:
    width, height = value
    return Size(float(width), float(height))


def _counts(value: Any) -> tuple[int, ...]:
    if any(isinstance(v, bool) or int(v) != v for v in value):
        raise ValueError("sheets are counted in whole numbers")
    return tuple(int(v) for v in value)


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise ValueError("write true or false")
    return value


def _interleaves(value: Any) -> tuple[FoldedInterleaf, ...]:
    read = []
    for item in value:
        if not isinstance(item, Mapping) or not {"gathering", "after"} <= set(item):
            raise ValueError("each needs a gathering and after")
        (gathering,) = _counts([item["gathering"]])
        depth = item.get("depth")
        stubs, mirrored = (tuple(map(_flag, item.get(key, ()))) for key in ("stubs", "mirrored"))
        inside = None if depth is None else _counts([depth])[0]
        read.append(FoldedInterleaf(gathering, inside, _counts(item["after"]), stubs, mirrored))
    return tuple(read)


_KEYS: dict[str, tuple[str, Any]] = {
    "trim_mm": ("trim", _size),
    "sheet_mm": ("sheet", _size),
    "gatherings": ("gatherings", _counts),
    "turning": ("turning", Turning),
    "bleed_mm": ("bleed", float),
    "caliper_um": ("caliper_um", float),
    "creep_coefficient": ("creep_coefficient", float),
    "trim_fore_edge": ("trim_fore_edge", _flag),
    "interleaves": ("interleaves", _interleaves),
    "interleaf_caliper_um": ("interleaf_caliper_um", float),
    "veiled_grey": ("veiled_grey", float),
    "drawn_in": ("drawn_in", DrawnIn),
    "front_lands": ("front_lands", _affine),
    "back_lands": ("back_lands", _affine),
}


def _wrong(what: str) -> UserError:
    return UserError(
        what,
        where="description of the folding",
        remedy='Write for example {"trim_mm": [210, 297], "sheet_mm": [483, 329], '
        '"gatherings": [3, 3, 2], "turning": "short-edge", "bleed_mm": 3, "caliper_um": 240, '
        '"creep_coefficient": 1.2, "trim_fore_edge": true}.',
    )
