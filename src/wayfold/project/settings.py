"""What a key of book.toml may hold, asked of the shape of the file itself before it is written."""

from __future__ import annotations

import enum
from typing import Any

from pydantic import BaseModel, TypeAdapter, ValidationError

from wayfold.base.errors import NotFoundError, UserError
from wayfold.project.bench_schema import (
    BenchTable,
    CaseTable,
    CostsTable,
    PocketTable,
    SewingTable,
)
from wayfold.project.schema import PaperTable, TranslucentTable

TABLES: dict[str, type[BaseModel]] = {
    "paper": PaperTable,
    "translucent": TranslucentTable,
    "case": CaseTable,
    "sewing": SewingTable,
    "pocket": PocketTable,
    "costs": CostsTable,
    "bench": BenchTable,
}
BOUNDS = {"gt": "more than", "ge": "at least", "lt": "less than", "le": "at most"}


def check_setting(key: str, value: object) -> object:
    """Give ``value`` as it is written for ``key`` ("case.joint_mm").

    Raises NotFoundError for a key there is none of, UserError that says what may stand there.
    """
    table, _, name = key.partition(".")
    field = TABLES[table].model_fields.get(name) if table in TABLES else None
    if field is None:
        raise NotFoundError(f"There is no setting {key}.")
    try:
        kept = TypeAdapter(field.rebuild_annotation()).validate_python(value)
    except ValidationError as error:
        raise UserError(
            f"“{value!s}” cannot stand here.",
            where=f"book.toml, {key}",
            remedy=f"Write {_say_allowed(error.errors()[0])}.",
        ) from error
    return kept.value if isinstance(kept, enum.Enum) else kept


def _say_allowed(error: Any) -> str:
    context = error.get("ctx", {})
    for sign, words in BOUNDS.items():
        if sign in context:
            return f"a number that is {words} {context[sign]:g}"
    if "expected" in context:
        return f"one of {context['expected']}"
    return "a whole number" if error["type"].startswith("int") else "a number, as 12.5"
