"""The plan in lines of text, for a screen of characters of one width."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.app.block_names import put_names
from wayfold.app.plan import PlanView, Unmet
from wayfold.base.counts import count_of
from wayfold.plan.explain import Elsewhere
from wayfold.plan.flatplan import draw_flatplan
from wayfold.plan.model import Status
from wayfold.plan.weigh import Position
from wayfold.plan.wishes import WishKind


def tell_plan(view: PlanView) -> Iterator[str]:
    """Give the lines about the whole plan."""
    yield from draw_flatplan(view.planned.plan, view.names)
    yield from _tell_verdict(view)
    yield ""
    yield from _tell_offers(view)
    yield ""
    yield from _tell_unmet(view)


def tell_why(view: PlanView) -> Iterator[str]:
    """Give the lines about one block."""
    why = view.why
    assert why is not None
    yield f'Page {why.page}, {view.names[why.block]} (block "{why.block}"):'
    for reason in why.reasons:
        yield f"  {put_names(reason, view.names)}"
    if why.elsewhere:
        yield "Elsewhere it would cost:"
    for other in why.elsewhere:
        yield f"  {_tell_elsewhere(other)}"
    for unmet in view.unmet:
        if unmet.wish.block == why.block:
            yield from _tell_wish(view, unmet)


def _tell_verdict(view: PlanView) -> Iterator[str]:
    planned = view.planned
    plan, result = planned.plan, planned.result
    sheets = sum(g.sheets for g in plan.gatherings)
    yield (
        f"{count_of(len(plan.pages), 'page')} on {count_of(sheets, 'sheet')} in "
        f"{count_of(len(plan.gatherings), 'gathering')}, "
        f"{count_of(len(plan.interleaves), 'interleaf', 'interleaves')}."
    )
    if result.status is Status.OPTIMAL:
        yield f"Optimal: no plan within the rules costs less than its {result.cost} points."
    else:
        yield (
            f"The best plan found, {result.cost} points; none can cost less than {result.bound} "
            f"(a gap of {result.cost - result.bound})."
        )
    if planned.printed:
        yield f"Printed, and kept as they are: gatherings {_list(planned.printed)}."
    changed = view.list_changed()
    if len(changed) == len(plan.gatherings):
        yield "No gathering is as it was in the last plan."
    elif changed:
        yield f"Not as in the last plan: gatherings {_list(changed)}; all others stay."


def _tell_offers(view: PlanView) -> Iterator[str]:
    yield "Plans to choose from (* is taken):"
    columns = "pages  unasked white  sheets  heroes at centres  wishes unmet  gatherings"
    yield f"    {'plan':<30} {columns}"
    for offer in view.offers:
        mark = "*" if view.book.planning.choice in offer.choices else " "
        names = ", ".join(offer.choices)
        sizes = " ".join(str(g.sheets) for g in offer.gatherings)
        heroes = f"{offer.heroes_at_centres} of {offer.heroes}"
        yield (
            f"  {mark} {names:<30} {len(offer.plan.pages):>5}  "
            f"{len(offer.unasked_whites):>13}  {offer.sheets:>6}  "
            f"{heroes:>17}  {len(offer.unmet):>12}  {sizes}"
        )


def _tell_unmet(view: PlanView) -> Iterator[str]:
    if not view.unmet:
        yield "Every wish is met."
        return
    yield "Wishes that are not met:"
    for unmet in view.unmet:
        yield from _tell_wish(view, unmet)
    if any(unmet.ways for unmet in view.unmet):
        yield "To meet one: --meet PAGE --way NUMBER."
    if any(not unmet.ways for unmet in view.unmet):
        yield "For the ways of a block laid otherwise: --why PAGE."


def _tell_wish(view: PlanView, unmet: Unmet) -> Iterator[str]:
    wish = unmet.wish
    yield f"  page {wish.page}, {view.names[wish.block]}: {_UNMET[wish.kind]}"
    ways = view.list_ways(wish.block)
    for way in unmet.ways:
        number = ways.index((wish, way)) + 1
        yield f"      {number}. {put_names(way.describe(wish), view.names)} (+{way.extra} points)"


def _tell_elsewhere(other: Elsewhere) -> str:
    where = _PLACES[other.spot.position] if other.spot.position else "wherever that is best"
    price = "cannot be, or costs far more" if other.extra is None else f"{other.extra:+d} points"
    return f"{price:>12}: laid in way {other.spot.way + 1}, {where}"


def _list(numbers: tuple[int, ...]) -> str:
    return ", ".join(map(str, numbers))


_UNMET = {
    WishKind.CENTRE: "it does not lie at a centre",
    WishKind.WHOLE: "it is torn between two gatherings",
    WishKind.FOLDED: "its interleaf has to be pasted in",
    WishKind.SIZE: "it is not laid in the way that suits it best",
}
_PLACES = {
    Position.CENTRE: "with its picture at a centre",
    Position.INNER: "with its picture inside a gathering, off the centre",
    Position.BETWEEN: "with its picture torn between two gatherings",
}
