"""Every plan of a tiny story, each built and priced: the cheapest is the optimum, by definition."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator

from tests.plan.oracle.evaluate import (
    Draft,
    Page,
    RuleBrokenError,
    Sheets,
    classify,
    evaluate,
    find_ends,
    lay_pages,
    price_end,
    price_folds,
    price_pictures,
    price_sizes,
    price_told,
)
from wayfold.plan.prices import Prices
from wayfold.story.model import BlockKind, Story

Told = tuple[tuple[int, int, int], ...]
WHITES_MOST = 3
"""No block may have more white pages before it, whatever it is."""


def list_orders(story: Story) -> Iterator[tuple[int, ...]]:
    """Give each order that some exchange of neighbours could lead to, allowed or not."""

    def go_on(at: int) -> Iterator[tuple[int, ...]]:
        if at >= len(story.blocks):
            yield ()
            return
        for rest in go_on(at + 1):
            yield (at, *rest)
        if at + 1 < len(story.blocks):
            for rest in go_on(at + 2):
                yield (at + 1, at, *rest)

    return go_on(0)


def list_sizes(pages: int, sheets: Sheets) -> Iterator[tuple[int, ...]]:
    """Give all gatherings that hold so many pages with something in the last one."""

    def fill(sizes: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if 4 * sum(sizes) >= pages:
            yield sizes
            return
        for size in range(1, sheets.most + 1):
            yield from fill((*sizes, size))

    return fill(())


def list_told(story: Story) -> Iterator[Told]:
    for order in list_orders(story):
        choices = []
        for index in order:
            block = story.blocks[index]
            most = WHITES_MOST if block.kind is BlockKind.COLOPHON else 1
            ways = range(len(block.alternatives))
            choices.append([(index, way, whites) for way in ways for whites in range(most + 1)])
        yield from itertools.product(*choices)


def list_folds(pages: list[Page | None], sizes: tuple[int, ...]) -> Iterator[Draft]:
    """Give every set of translucent sheets of which each has a leaf where one is wanted.

    Where none of them lies, one is pasted in. Sets that lay two leaves in one gap are left out.
    """
    wanted = [a for a in range(0, len(pages) + 1, 2) if classify(pages, a) == "wanted"]
    candidates = []
    for fold in ((g, outside) for g, size in enumerate(sizes) for outside in range(size + 1)):
        ((_, ends),) = find_ends(sizes, (fold,)).items()
        if set(ends) & set(wanted):
            candidates.append((fold, set(ends)))

    def choose(at: int, taken: frozenset[int]) -> Iterator[tuple[tuple[int, int], ...]]:
        if at == len(candidates):
            yield ()
            return
        yield from choose(at + 1, taken)
        fold, ends = candidates[at]
        if not ends & taken:
            for rest in choose(at + 1, taken | ends):
                yield (fold, *rest)

    for folds in choose(0, frozenset()):
        lain = {after for ends in find_ends(sizes, folds).values() for after in ends}
        tips = tuple(after for after in wanted if after not in lain)
        yield Draft((), sizes, folds, tips)


def find_cheapest(
    story: Story,
    sheets: Sheets,
    prices: Prices,
    accept: Callable[[Draft, list[Page | None]], bool] | None = None,
    extra: Callable[[Draft, list[Page | None]], int] | None = None,
    keep: Callable[[Draft, list[Page | None]], frozenset[int]] | None = None,
) -> tuple[int, Draft] | None:
    """Give the cheapest of all plans that keep the rules and ``accept``; None if there is none.

    ``extra`` prices what the story alone does not say, such as change against another plan;
    ``keep`` gives the gatherings that lie printed and stay.
    """
    best: tuple[int, Draft] | None = None
    for told in list_told(story):
        try:
            told_price = price_told(story, told, prices)
        except RuleBrokenError:
            continue
        count = sum(story.blocks[i].alternatives[w].pages + whites for i, w, whites in told)
        for sizes in list_sizes(count, sheets):
            bare = Draft(told, sizes)
            pages = lay_pages(story, bare)
            kept = frozenset() if keep is None else keep(bare, pages)
            try:
                total = told_price + price_sizes(sizes, sheets, prices, kept)
            except RuleBrokenError:
                continue
            if accept is not None and not accept(bare, pages):
                continue
            total += price_end(pages, sizes, prices) + price_pictures(pages, sizes, prices)
            total += 0 if extra is None else extra(bare, pages)
            if best is not None and total >= best[0]:
                continue  # translucent sheets never make a plan cheaper
            for laid in list_folds(pages, sizes):
                cost = total + price_folds(pages, laid, prices)
                if best is None or cost < best[0]:
                    best = cost, Draft(told, sizes, laid.folds, laid.tips)
    if best is not None:
        pages = lay_pages(story, best[1])
        kept = frozenset() if keep is None else keep(best[1], pages)
        whole = evaluate(story, best[1], sheets, prices, kept)
        whole += 0 if extra is None else extra(best[1], pages)
        assert whole == best[0], "the parts do not add up to the whole"
    return best
