"""What was placed by hand, written into book.toml: ``[layout.by_hand]``, one table a block."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any

import tomlkit

from wayfold.base.errors import UserError
from wayfold.base.geometry import Rect
from wayfold.book.arranging import HandLaid, PlacedPicture, PlacedText

DECIMALS_MM, DECIMALS_CROP = 3, 5
"""A thousandth of a mm, and of the smallest crop's side, nobody sees."""


def place_blocks(text: str, blocks: Mapping[str, HandLaid | None]) -> str:
    """Give the text of book.toml with blocks placed as said here, or no more where None.

    All else stays as it was written, comments too. Raises UserError where the tables stand in a
    form that cannot be changed without harm.
    """
    document = tomlkit.parse(text)
    layout: Any = document.setdefault("layout", tomlkit.table(is_super_table=True))
    tables: Any = layout.setdefault("by_hand", tomlkit.table(is_super_table=True))
    for block, hand in blocks.items():
        if hand is None:
            tables.pop(block, None)
            continue
        table = tables.setdefault(block, tomlkit.table())
        table["begins"] = hand.begins
        _write_fields(table, "picture", {one.photo: _describe(one) for one in hand.pictures})
        _write_fields(table, "text", {one.text: _describe_text(one) for one in hand.texts})
    if not tables:
        del layout["by_hand"]
    changed = tomlkit.dumps(document)
    wanted = {**_read(text), **{block: _table(hand) for block, hand in blocks.items()}}
    if _read(changed) != {block: table for block, table in wanted.items() if table is not None}:
        raise UserError(
            "What was placed by hand stands in this file so that it cannot be changed for you.",
            where="book.toml",
            remedy='Write each block as a table of its own: [layout.by_hand."BLOCK"].',
        )
    return changed


def _write_fields(table: Any, name: str, fields: Mapping[str, dict[str, Any]]) -> None:
    if not fields:
        table.pop(name, None)
        return
    written = table.setdefault(name, tomlkit.table())
    if list(written) != list(fields):
        # Their order says what lies on what: begin anew where it is another.
        for key in list(written):
            del written[key]
    for key, said in fields.items():
        if written.get(key) != said:
            inline = tomlkit.inline_table()
            inline.update(said)
            written[key] = inline


def _describe_text(one: PlacedText) -> dict[str, Any]:
    at = [round(side, DECIMALS_MM) for side in (one.left, one.top)]
    return {"page": one.page, "at_mm": at, "width_mm": round(one.width, DECIMALS_MM)}


def _describe(one: PlacedPicture) -> dict[str, Any]:
    said: dict[str, Any] = {"page": one.page, "box_mm": _parts(one.box, DECIMALS_MM)}
    return said | ({"crop": _parts(one.crop, DECIMALS_CROP)} if one.crop else {})


def _parts(rect: Rect, decimals: int) -> list[float]:
    return [round(side, decimals) for side in (rect.x, rect.y, rect.width, rect.height)]


def _table(hand: HandLaid | None) -> dict[str, Any] | None:
    if hand is None:
        return None
    fields = {
        "picture": {one.photo: _describe(one) for one in hand.pictures},
        "text": {one.text: _describe_text(one) for one in hand.texts},
    }
    return {"begins": hand.begins, **{name: said for name, said in fields.items() if said}}


def _read(text: str) -> dict[str, Any]:
    tables: dict[str, Any] = tomllib.loads(text).get("layout", {}).get("by_hand", {})
    return tables
