"""Values by chance after a JSON Schema: mostly as it asks, here and there what it forbids."""

from __future__ import annotations

import string
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any

from proving.fuzz.mutate import hostile_string

HOSTILE: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 2**31, 2**63, -(2**63) - 1, 10**400, 0.5, -0.0, 1e308, 1e-320,
    float("nan"), float("inf"), float("-inf"), "", [], {}, [[]], [None], {"": None}, "nan", "1e999",
)  # fmt: skip
DEEP = 6
LETTERS = string.ascii_letters + string.digits + " -_./:éß"


@dataclass(frozen=True, slots=True)
class SchemaMaker:
    """Makes values after the schemas of a document.

    ``lures`` are values that mean something to the asked (ids, names of keys), by the property's
    name; ``wrong`` is how often (0-1) a value is another than the schema allows.
    """

    definitions: Mapping[str, Any]
    lures: Mapping[str, Sequence[Any]] = field(default_factory=dict)
    wrong: float = 0.06

    def make(self, schema: Mapping[str, Any], rng: Random, name: str = "", depth: int = 0) -> Any:
        """Give a value for ``schema``; ``name`` is the property it is for."""
        if rng.random() < self.wrong:
            return hostile_string(rng) if rng.random() < 0.4 else rng.choice(HOSTILE)
        if name in self.lures and rng.random() < 0.8:
            lure = rng.choice(self.lures[name])
            if _fits(schema, lure):
                return lure
        if "$ref" in schema:
            return self.make(self.definitions[schema["$ref"].rpartition("/")[2]], rng, name, depth)
        for key in ("anyOf", "oneOf", "allOf"):
            if key in schema:
                return self.make(rng.choice(schema[key]), rng, name, depth)
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return rng.choice(schema["enum"])
        return self._make_plain(schema, rng, name, depth)

    def _make_plain(self, schema: Mapping[str, Any], rng: Random, name: str, depth: int) -> Any:
        match schema.get("type"):
            case "object":
                return self._make_object(schema, rng, depth)
            case "array":
                return self._make_array(schema, rng, name, depth)
            case "integer":
                return round(_make_number(schema, rng))
            case "number":
                return _make_number(schema, rng)
            case "boolean":
                return rng.random() < 0.5
            case "null":
                return None
            case "string":
                return self._make_string(schema, rng)
        return rng.choice(HOSTILE)

    def _make_object(self, schema: Mapping[str, Any], rng: Random, depth: int) -> Any:
        required = set(schema.get("required", ()))
        made = {}
        for key, inner in schema.get("properties", {}).items():
            wanted = 0.98 if key in required else 0.35 if depth < DEEP else 0.0
            if rng.random() < wanted:
                made[key] = self.make(inner, rng, key, depth + 1)
        more = schema.get("additionalProperties")
        if isinstance(more, dict) and depth < DEEP:
            for _ in range(rng.choice((0, 1, 2))):
                key = str(rng.choice(self.lures.get("", ("x",))))
                made[key] = self.make(more, rng, "", depth + 1)
        if rng.random() < self.wrong / 2:
            made[hostile_string(rng)[:100]] = 1
        return made

    def _make_array(self, schema: Mapping[str, Any], rng: Random, name: str, depth: int) -> Any:
        if "prefixItems" in schema:
            return [self.make(one, rng, name, depth + 1) for one in schema["prefixItems"]]
        least, most = schema.get("minItems", 0), schema.get("maxItems", 4)
        long = rng.randint(least, max(least, min(most, least + 3)))
        if rng.random() < self.wrong / 4:
            long = 2000
        inner = schema.get("items", {})
        return [self.make(inner, rng, name, depth + 1) for _ in range(long if depth < DEEP else 0)]

    def _make_string(self, schema: Mapping[str, Any], rng: Random) -> str:
        lures = self.lures.get("", ())
        if schema.get("format") == "date":
            year, month = rng.choice((1, 1999, 2025, 9999)), rng.randint(1, 12)
            return f"{year:04}-{month:02}-{rng.randint(1, 28):02}"
        if schema.get("format") == "date-time":
            return f"2025-05-{rng.randint(10, 17)}T{rng.randint(0, 23):02}:20:31"
        if schema.get("pattern", "").startswith("^#"):
            return f"#{rng.randrange(1 << 24):06x}"
        if lures and rng.random() < 0.5:
            return str(rng.choice(lures))
        if rng.random() < 0.2:
            return hostile_string(rng)
        return "".join(rng.choices(LETTERS, k=rng.randint(0, 12)))


def _make_number(schema: Mapping[str, Any], rng: Random) -> float:
    low = schema.get("minimum", schema.get("exclusiveMinimum", -10))
    high = schema.get("maximum", schema.get("exclusiveMaximum", max(low, 0) + 300))
    match rng.randrange(5):
        case 0:
            return float(low)
        case 1:
            return float(high)
        case 2:
            return float(rng.randint(int(low), min(int(high), int(low) + 8)))
    return rng.uniform(low, high)


def _fits(schema: Mapping[str, Any], lure: Any) -> bool:
    """Whether a lure is at least of a kind that the schema speaks of."""
    kinds = {"string": str, "integer": int, "number": (int, float), "boolean": bool}
    kind = schema.get("type")
    return not isinstance(kind, str) or isinstance(lure, kinds.get(kind, ()))
