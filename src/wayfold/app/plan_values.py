"""A look at the plan as plain values, for people's other programs."""

from __future__ import annotations

from typing import Any

from wayfold.app.plan import PlanView
from wayfold.app.reports import describe_flatplan
from wayfold.plan.explain import Explanation
from wayfold.plan.wishes import Wish

SCHEMA = "wayfold.plan-view/1"


def describe_view(view: PlanView) -> dict[str, Any]:
    """Give the view as plain values, with the ids of blocks; ``blocks`` has their names."""
    planned = view.planned
    return {
        "schema": SCHEMA,
        "status": planned.result.status.value,
        "cost": planned.result.cost,
        "bound": planned.result.bound,
        "choice": view.book.planning.choice.value,
        "pages": len(planned.plan.pages),
        "gatherings": [g.sheets for g in planned.plan.gatherings],
        "flatplan": describe_flatplan(planned.plan),
        "printed": list(planned.printed),
        "changed": list(view.list_changed()),
        "blocks": dict(view.names),
        "offers": [
            {
                "choices": [choice.value for choice in offer.choices],
                "pages": len(offer.plan.pages),
                "gatherings": [g.sheets for g in offer.gatherings],
                "sheets": offer.sheets,
                "heroes": offer.heroes,
                "heroes_at_centres": offer.heroes_at_centres,
                "unmet": [_describe_wish(wish) for wish in offer.unmet],
                "unasked_white_pages": list(offer.unasked_whites),
            }
            for offer in view.offers
        ],
        "unmet": [
            {
                **_describe_wish(unmet.wish),
                "ways": [{"extra": way.extra, "changes": list(way.changes)} for way in unmet.ways],
            }
            for unmet in view.unmet
        ],
        "why": None if view.why is None else _describe_why(view.why),
        "findings": [f.to_json() for f in view.findings],
    }


def _describe_wish(wish: Wish) -> dict[str, Any]:
    return {"kind": wish.kind.value, "block": wish.block, "page": wish.page}


def _describe_why(why: Explanation) -> dict[str, Any]:
    return {
        "block": why.block,
        "page": why.page,
        "reasons": list(why.reasons),
        "elsewhere": [
            {
                "way": e.spot.way + 1,
                "position": e.spot.position.value if e.spot.position else None,
                "extra": e.extra,
            }
            for e in why.elsewhere
        ],
    }
