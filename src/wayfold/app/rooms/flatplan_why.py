"""Why a block lies where it lies, and what it would cost elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.app.block_names import name_blocks, put_names
from wayfold.app.plan import find_block
from wayfold.app.session import Session
from wayfold.plan.explain import explain_block


@dataclass(frozen=True, slots=True)
class Otherwise:
    """A block laid in way ``way`` (from 1), its picture at ``position`` (``weigh.Position``).

    ``extra`` is what that costs more, in points; None where it cannot be, or costs far more.
    """

    way: int
    position: str | None
    extra: int | None


@dataclass(frozen=True, slots=True)
class Why:
    """The reasons in sentences, and the block otherwise, the cheapest first."""

    block: str
    reasons: tuple[str, ...]
    otherwise: tuple[Otherwise, ...]


def explain_page(session: Session, number: int) -> Why:
    """Explain the block on a page; of a white page, what it is there for.

    Raises NotFoundError for a page that the book has not, or that only ends it.
    """
    results = session.results
    block = find_block(results.plan, number)
    told = explain_block(results.planned.problem, results.planned.result, block)
    names = name_blocks(results.story, results.photos)
    return Why(
        block,
        tuple(put_names(reason, names) for reason in told.reasons),
        tuple(
            Otherwise(e.spot.way + 1, e.spot.position.value if e.spot.position else None, e.extra)
            for e in told.elsewhere
        ),
    )
