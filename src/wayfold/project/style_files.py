"""Styles as folders: those that come with Wayfold, and those in a book's own folder, which win."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from wayfold.base.errors import NotFoundError, UserError
from wayfold.book.style import Margins, Style, TypeSize
from wayfold.drawing.colour import Colour
from wayfold.project.files import BookFolder
from wayfold.project.layout_schema import families_from_tables
from wayfold.project.style_schema import (
    BookStyleTable,
    MarginsTable,
    ScaleTable,
    SizesTable,
    StyleFile,
    StyleTable,
)
from wayfold.project.toml_edge import check_shape, read_toml

STYLE_VERSION = 1
STYLE_FILE = "style.toml"
SHIPPED = Path(__file__).with_name("styles")
SMALLEST_PT, LARGEST_PT = 5.0, 100.0
"""What of a scale is reckoned: no type of a book is smaller or larger."""
ROUNDING_PT = 0.051
"""Sizes are written to a tenth of a point."""
_COLOURS = ("ink", "quiet_ink", "accent", "land", "land_beyond")


@dataclass(frozen=True, slots=True)
class StyleEntry:
    """A style there is to choose: its values, what it is like in one line, and whose it is."""

    style: Style
    about: str
    own: bool


def list_styles(folder: BookFolder | None = None) -> tuple[StyleEntry, ...]:
    """Give all styles, those that come with Wayfold first. Raises UserError naming file and key."""
    return tuple(read_style(name, folder) for name in _list_names(folder))


def read_style(name: str, folder: BookFolder | None = None) -> StyleEntry:
    """Give the style of that name. Raises NotFoundError with the names there are, and UserError."""
    own = folder.styles / name / STYLE_FILE if folder else None
    if own is not None and own.is_file() and folder:
        return _read(own, folder.name_of(own), own=True)
    shipped = SHIPPED / name / STYLE_FILE
    if name not in _list_names(folder) or not shipped.is_file():
        raise _unknown(name, folder)
    return _read(shipped, f"{name}/{STYLE_FILE} of Wayfold", own=False)


def choose_style(table: BookStyleTable, folder: BookFolder) -> Style:
    """Give the style that [style] of book.toml names, with the values it writes over."""
    try:
        style = read_style(table.name, folder).style
    except NotFoundError as error:
        raise UserError(error.what, where="book.toml, style", remedy=error.remedy) from error
    return _write_over(style, table, "book.toml", "style.")


def find_said(table: BookStyleTable, key: str, folder: BookFolder) -> str:
    """Name the file and key where a book's style got a value from, for messages."""
    if getattr(table, key) is not None:
        return f"book.toml, style.{key}"
    own = folder.styles / table.name / STYLE_FILE
    return f"{folder.name_of(own) if own.is_file() else table.name}, {key}"


def _list_names(folder: BookFolder | None) -> tuple[str, ...]:
    places = (SHIPPED, folder.styles) if folder else (SHIPPED,)
    found = (p.parent.name for place in places for p in sorted(place.glob(f"*/{STYLE_FILE}")))
    return tuple(dict.fromkeys(found))


def _unknown(name: str, folder: BookFolder | None) -> NotFoundError:
    known = _list_names(folder)
    near = difflib.get_close_matches(name, known, n=1)
    guess = f"Did you mean {near[0]}? " if near else ""
    return NotFoundError(
        f"There is no style “{name}”.",
        where="style",
        remedy=f"{guess}Write one of: {', '.join(known)}; or make styles/{name}/{STYLE_FILE}.",
    )


def _read(path: Path, where: str, *, own: bool) -> StyleEntry:
    file = check_shape(read_toml(path, where, STYLE_VERSION), StyleFile, path, where)
    bare = Style(name=path.parent.name, families=families_from_tables(file.family))
    style = _write_over(bare, file, where, "")
    return StyleEntry(style, file.about, own)


def _write_over(style: Style, table: StyleTable, where: str, prefix: str) -> Style:
    """Give ``style`` with all values that the table has; sizes off the scale are refused."""
    values: dict[str, Any] = {
        key.removesuffix("_mm"): value
        for key in ("serif", "sans", "gap_mm", "text_measure_mm", "caption_measure_mm",
                    "title_align", "title_letters", "caption_letters", "washes", "wash_seed")
        if (value := getattr(table, key)) is not None
    }  # fmt: skip
    values |= {key: Colour.of(code) for key in _COLOURS if (code := getattr(table, key))}
    values |= dict(_read_margins(table))
    values |= {key: TypeSize(*size) for key, size in table.sizes if size is not None}
    if table.scale is not None:
        values["scale_pt"] = _list_sizes(table.scale)
    changed = replace(style, **values)
    for key in SizesTable.model_fields:
        _refuse_off_scale(getattr(changed, key), changed.scale_pt, where, f"{prefix}sizes.{key}")
    return changed


def _read_margins(table: StyleTable) -> Iterator[tuple[str, object]]:
    if table.canon is not None:
        yield "text_margins", table.canon
    if table.text_margins_mm is not None:
        yield "text_margins", _margins(table.text_margins_mm)
    if table.picture_margins_mm is not None:
        yield "picture_margins", _margins(table.picture_margins_mm)


def _margins(given: MarginsTable | float) -> Margins:
    if isinstance(given, MarginsTable):
        return Margins(given.inner, given.outer, given.head, given.foot)
    return Margins(given, given, given, given)


def _list_sizes(scale: ScaleTable) -> tuple[float, ...]:
    """Give the sizes of a scale, rising: base × ratioⁿ for whole n, to a tenth of a point."""
    if scale.sizes_pt is not None:
        return tuple(sorted(set(scale.sizes_pt)))
    base, ratio = scale.base_pt, scale.ratio
    assert base is not None and ratio is not None  # the table's own rule
    sizes = [base]
    while sizes[0] / ratio >= SMALLEST_PT:
        sizes.insert(0, sizes[0] / ratio)
    while sizes[-1] * ratio <= LARGEST_PT:
        sizes.append(sizes[-1] * ratio)
    return tuple(round(size, 1) for size in sizes)


def _refuse_off_scale(size: TypeSize, scale: tuple[float, ...], where: str, key: str) -> None:
    if not any(abs(step - size.size_pt) < ROUNDING_PT for step in scale):
        below = [step for step in scale if step < size.size_pt][-1:]
        near = below + [step for step in scale if step > size.size_pt][:1]
        raise UserError(
            f"{key}: {size.size_pt:g} pt is no size of this style’s scale.",
            where=where,
            remedy=f"Write {' or '.join(f'{step:g}' for step in near)}, or change [scale].",
        )
