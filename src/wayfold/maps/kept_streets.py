"""A street plan as bytes and back, so that a large extract is read once and not for every make."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from wayfold.base.findings import Finding
from wayfold.maps.streets import Street, StreetPlan

_SHAPES = ("rails", "rivers", "water", "parks", "coast")


def pack_plan(plan: StreetPlan) -> bytes:
    """Give a plan as JSON with its shapes as well-known binary (OGC 06-103r4) in hex."""
    values: dict[str, Any] = {name: _pack(getattr(plan, name)) for name in _SHAPES}
    values["lines"] = _pack(street.line for street in plan.streets)
    values["ranks"] = [street.rank for street in plan.streets]
    values["names"] = [street.name for street in plan.streets]
    values["credit"] = plan.credit
    values["findings"] = [finding.to_json() for finding in plan.findings]
    return json.dumps(values, ensure_ascii=False).encode()


def unpack_plan(data: bytes) -> StreetPlan:
    """Read what ``pack_plan`` gives. Raises ValueError or KeyError for anything else."""
    values = json.loads(data)
    try:
        shapes = {name: tuple(shapely.from_wkb(values[name])) for name in _SHAPES}
        lines = shapely.from_wkb(values["lines"])
    except shapely.errors.ShapelyError as error:
        raise ValueError(str(error)) from error
    return StreetPlan(
        tuple(map(Street, lines, values["ranks"], values["names"])),
        **shapes,
        credit=values["credit"],
        findings=tuple(Finding.from_json(finding) for finding in values["findings"]),
    )


def _pack(shapes: Iterable[BaseGeometry]) -> list[str]:
    return [str(shape) for shape in shapely.to_wkb(list(shapes), hex=True)]
