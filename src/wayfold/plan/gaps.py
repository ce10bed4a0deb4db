"""What faces each other in a gap between two leaves, and so what a translucent leaf does there.

class   the two facing pages            a leaf that lies there for its other end's sake is
W       an interleaf is asked for       wanted: the pair is perfect
X       a picture crosses from one      cut back to a stub: it must not cover the picture
T       at least one bears a caption    an echo: it carries a caption (or whatever is cheaper)
N       none of these                   plain, or a stub
"""

from __future__ import annotations

import enum

from wayfold.plan.model import EndRole
from wayfold.plan.prices import Prices


class Gap(enum.IntEnum):
    """The class of a gap."""

    N = 0
    T = 1
    X = 2
    W = 3


def classify_gap(wanted: bool, crossed: bool, bears: bool) -> Gap:
    """Give the class of a gap from what its facing pages say."""
    if wanted:
        return Gap.W
    if crossed:
        return Gap.X
    return Gap.T if bears else Gap.N


def price_end(gap: Gap, role: EndRole, prices: Prices) -> int | None:
    """Give the price of an interleaf's end with that role there; None where it may not have it."""
    return _list_roles(gap, prices).get(role)


def choose_role(gap: Gap, prices: Prices) -> tuple[int, EndRole]:
    """Give the cheapest role of an interleaf's end in a gap, and its price."""
    role, price = min(_list_roles(gap, prices).items(), key=lambda entry: entry[1])
    return price, role


def _list_roles(gap: Gap, prices: Prices) -> dict[EndRole, int]:
    if gap is Gap.W:
        return {EndRole.WANTED: 0}
    if gap is Gap.X:
        return {EndRole.STUB: prices.stub_across}
    roles = {EndRole.PLAIN: prices.interleaf_plain, EndRole.STUB: prices.interleaf_stub}
    return {EndRole.ECHO: prices.interleaf_echo, **roles} if gap is Gap.T else roles
