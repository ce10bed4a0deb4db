"""What is held fast, written into book.toml: ``[[plan.pin]]``, one table a block."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from typing import Any

import tomlkit

from wayfold.base.errors import UserError
from wayfold.book.planning import PinChoice


def hold_blocks(text: str, pins: Sequence[PinChoice]) -> str:
    """Give the text of book.toml with blocks held, each as its pin says and no other way.

    A pin that says nothing lets its block go. All else stays as it was written, comments too.
    Raises UserError where the pins stand in a form that cannot be changed without harm.
    """
    document = tomlkit.parse(text)
    plan: Any = document.setdefault("plan", tomlkit.table(is_super_table=True))
    tables: Any = plan.setdefault("pin", tomlkit.aot())
    inline = isinstance(tables, tomlkit.items.Array)
    for pin in pins:
        fields = _describe_pin(pin)
        there = [at for at, table in enumerate(tables) if table["block"] == pin.block]
        for at in reversed(there if pin.is_empty else there[1:]):
            del tables[at]
        if pin.is_empty:
            continue
        if there:
            table: Any = tables[there[0]]
            for key in [key for key in table if key not in fields]:
                del table[key]
            table.update(fields)
        else:
            table = tomlkit.inline_table() if inline else tomlkit.table()
            table.update(fields)
            table.trivia.indent = "" if inline else "\n"
            tables.append(table)
    wanted = _list_wanted(text, pins)
    # Tables that lie scattered over the file may lose what is put in: then it goes to the end.
    holding = [pin for pin in pins if not pin.is_empty]
    ended = text.rstrip("\n") + "\n" + "".join(_write_pin(pin) for pin in holding)
    for changed in (tomlkit.dumps(document), ended):
        if _read_held(changed) == wanted:
            return changed
    raise UserError(
        "The pins in this file lie so that they cannot be changed for you.",
        where="book.toml",
        remedy="Write there, in place of what is said of the same blocks:\n"
        + "".join(_write_pin(pin) for pin in holding),
    )


def _write_pin(pin: PinChoice) -> str:
    """Give a pin as a table of its own."""
    return "\n" + tomlkit.dumps({"plan": {"pin": [_describe_pin(pin)]}})


def _describe_pin(pin: PinChoice) -> dict[str, str | int | bool]:
    """Give what a pin says, without what it leaves open."""
    fields = {"block": pin.block, "page": pin.page, "way": pin.way}
    said = {key: value for key, value in fields.items() if value is not None}
    return said | {key: True for key in ("centre", "stays") if getattr(pin, key)}


def _list_wanted(text: str, pins: Sequence[PinChoice]) -> dict[str, Any]:
    """Give what should be held in the end, by block."""
    named = {pin.block: [] if pin.is_empty else [_describe_pin(pin)] for pin in pins}
    return {block: pins for block, pins in (_read_held(text) | named).items() if pins}


def _read_held(text: str) -> dict[str, Any]:
    held: dict[str, Any] = {}
    try:
        tables = tomllib.loads(text).get("plan", {}).get("pin", [])
    except tomllib.TOMLDecodeError:
        return held
    for table in tables:
        held.setdefault(table["block"], []).append(table)
    return held
