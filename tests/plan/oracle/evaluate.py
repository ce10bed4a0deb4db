"""A plan laid out as a maker would: fold sheets, nest them, count leaves, look into every gap.

Shares nothing with the planner but the prices and the types it is given. A ``Draft`` is what a
maker decides; everything else (page numbers, where a translucent leaf comes out, what faces it,
what it costs) is found by building the book leaf by leaf.
Source: geometry of folding; any dummy of folded paper shows it. The prices' meaning: ``Prices``.
"""

from __future__ import annotations

from dataclasses import dataclass

from wayfold.plan.model import EndRole, Plan
from wayfold.plan.prices import Prices
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story


class RuleBrokenError(Exception):
    """The draft cannot be made, or no reader would accept it."""


@dataclass(frozen=True)
class Sheets:
    """How many sheets a gathering may have; ``alone``: a single gathering may have fewer."""

    least: int
    most: int
    preferred: int
    alone: bool = False


@dataclass(frozen=True)
class Draft:
    """What a maker decides.

    ``told`` lists, in reading order, the index of each block and of the alternative taken, with
    the number of white pages before it. ``folds`` are translucent sheets as (gathering, paper
    sheets outside it), ``tips`` the pages (even, 0 = before the first) after which a single leaf
    is pasted in. Gatherings count from 0.
    """

    told: tuple[tuple[int, int, int], ...]
    sizes: tuple[int, ...]
    folds: tuple[tuple[int, int], ...] = ()
    tips: tuple[int, ...] = ()


@dataclass(frozen=True)
class Page:
    """A page with something on it: which block, the alternative taken, and its page of it."""

    block: Block
    taken: Alternative
    part: int


def nest(folded: list[str]) -> list[str]:
    """Give the leaves from front to back of sheets that lie in each other, outermost first."""
    if not folded:
        return []
    return [folded[0], *nest(folded[1:]), folded[0]]


def pile(sizes: tuple[int, ...], folds: tuple[tuple[int, int], ...]) -> list[str]:
    """Give every leaf of the book: "paper", or the name of the translucent sheet it belongs to."""
    leaves = []
    for number, size in enumerate(sizes):
        folded = ["paper"] * size
        # The innermost first, so that a sheet laid in does not move the places further out.
        for gathering, outside in sorted(folds, key=lambda fold: -fold[1]):
            if gathering == number:
                if not 0 <= outside <= size:
                    raise RuleBrokenError(f"nothing can lie {outside} sheets deep in {size}")
                folded.insert(outside, name_fold(gathering, outside))
        leaves += nest(folded)
    return leaves


def name_fold(gathering: int, outside: int) -> str:
    return f"translucent {gathering}/{outside}"


def find_ends(sizes: tuple[int, ...], folds: tuple[tuple[int, int], ...]) -> dict[str, list[int]]:
    """Give the pages after which each translucent sheet's two leaves lie, by counting leaves."""
    ends: dict[str, list[int]] = {}
    pages = 0
    for leaf in pile(sizes, folds):
        if leaf == "paper":
            pages += 2
        else:
            ends.setdefault(leaf, []).append(pages)
    return ends


def lay_pages(story: Story, draft: Draft) -> list[Page | None]:
    """Give what lies on each page from 1, at index 0; None is white."""
    pages: list[Page | None] = []
    for index, way, whites in draft.told:
        block = story.blocks[index]
        taken = block.alternatives[way]
        pages += [None] * whites
        pages += [Page(block, taken, part) for part in range(taken.pages)]
    room = 4 * sum(draft.sizes) - len(pages)
    if room < 0:
        raise RuleBrokenError("more pages than paper")
    return pages + [None] * room


def classify(pages: list[Page | None], after: int) -> str:
    """Say what a leaf after that page meets: "wanted", "picture", "bears" or "nothing"."""
    left = pages[after - 1] if after else None
    right = pages[after] if after < len(pages) else None
    both = [page for page in (left, right) if page is not None]
    if any(page.part in page.taken.interleaves for page in both):
        return "wanted"
    if left is not None and left.part in left.taken.spreads:
        return "picture"
    if any(page.part in page.taken.bears for page in both):
        return "bears"
    return "nothing"


def cheapest_end(kind: str, prices: Prices) -> int:
    """Give the least that a leaf costs which lies there for its other end's sake."""
    return min(list_roles(kind, prices).values())


def list_roles(kind: str, prices: Prices) -> dict[EndRole, int]:
    if kind == "wanted":
        return {EndRole.WANTED: 0}
    if kind == "picture":
        return {EndRole.STUB: prices.stub_across}
    roles = {EndRole.PLAIN: prices.interleaf_plain, EndRole.STUB: prices.interleaf_stub}
    if kind == "bears":
        roles[EndRole.ECHO] = prices.interleaf_echo
    return roles


def price_told(story: Story, told: tuple[tuple[int, int, int], ...], prices: Prices) -> int:
    """Price alternatives, order and white pages before blocks; raises RuleBrokenError."""
    turned = count_turned(story, [index for index, _, _ in told])
    total = prices.swap * turned + sum(
        story.blocks[index].alternatives[way].cost for index, way, _ in told
    )
    page = 1
    for index, way, whites in told:
        block = story.blocks[index]
        taken = block.alternatives[way]
        total += price_whites(block, taken, whites, prices)
        page += whites
        check_side(taken, page)
        page += taken.pages
    return total


def price_end(pages: list[Page | None], sizes: tuple[int, ...], prices: Prices) -> int:
    """Price the white pages that end the book; raises RuleBrokenError."""
    trailing = 0
    while trailing < len(pages) and pages[-1 - trailing] is None:
        trailing += 1
    if trailing >= 4 * sizes[-1]:
        raise RuleBrokenError("nothing lies in the last gathering")
    # A sheet has four pages, so three may be left over; more is a sheet for nothing.
    return trailing * prices.blank_at_end + max(0, trailing - 3) * prices.blank_too_many


def count_turned(story: Story, told: list[int]) -> int:
    """Count the neighbours that changed places; raises RuleBrokenError for any other order."""
    count, at = 0, 0
    while at < len(story.blocks):
        if told[at] == at:
            at += 1
            continue
        if told[at : at + 2] != [at + 1, at]:
            raise RuleBrokenError("the blocks are not in order")
        first, second = story.blocks[at : at + 2]
        if first.swap is None or first.swap != second.swap or first.chapter != second.chapter:
            raise RuleBrokenError("these may not change places")
        count, at = count + 1, at + 2
    if len(told) != len(story.blocks):
        raise RuleBrokenError("blocks are missing")
    return count


def sides_asked(taken: Alternative) -> set[str]:
    """Give the sides the first page has to lie on: more than one side cannot be."""
    sides = {"recto" if at % 2 else "verso" for at in taken.spreads}
    if taken.start is not Start.ANY:
        sides.add("recto" if taken.start is Start.RECTO else "verso")
    return sides


def check_side(taken: Alternative, page: int) -> None:
    here = "recto" if page % 2 else "verso"
    if sides_asked(taken) - {here}:
        raise RuleBrokenError(f"page {page} is a {here}")
    if any(not 0 <= at < taken.pages - 1 for at in taken.spreads):
        raise RuleBrokenError("a picture runs off its block")


def price_whites(block: Block, taken: Alternative, whites: int, prices: Prices) -> int:
    """Price white pages before a block; raises RuleBrokenError."""
    if not whites:
        return 0
    sides = sides_asked(taken)
    if block.kind is BlockKind.COLOPHON:
        if whites > 3:
            raise RuleBrokenError("that many white pages look like the end")
        return whites * prices.blank_before_colophon
    if whites > 1:
        raise RuleBrokenError("two white pages")
    if sides:
        # Only parity brings a white page: on the page itself the block could not have begun.
        return prices.blank_before_recto if "recto" in sides else prices.blank_before_verso
    if block.kind not in (BlockKind.SINGLE, BlockKind.GROUP, BlockKind.HERO):
        raise RuleBrokenError("a white page that nobody expects")
    return prices.blank_quiet


def price_sizes(
    sizes: tuple[int, ...], sheets: Sheets, prices: Prices, kept: frozenset[int] = frozenset()
) -> int:
    """Price gatherings; raises RuleBrokenError for a size that is not allowed.

    ``kept`` are the gatherings that lie printed and stay: whatever they have, they keep.
    """
    total, before = 0, None
    for number, size in enumerate(sizes):
        thin = sheets.alone and len(sizes) == 1 and 1 <= size < sheets.least
        if number not in kept and not thin and not sheets.least <= size <= sheets.most:
            raise RuleBrokenError(f"{size} sheets are not allowed")
        total += prices.sheet * size + prices.size_off * abs(size - sheets.preferred)
        if before is not None and before != size:
            total += prices.size_unlike
        before = size
    return total


def price_pictures(pages: list[Page | None], sizes: tuple[int, ...], prices: Prices) -> int:
    """Price pictures across two pages by whether both halves are on one side of one sheet."""
    sheet_of_page = number_sheets(sizes)
    total = 0
    for at, page in enumerate(pages):
        if page is None or page.part not in page.taken.spreads:
            continue
        hero = max(1, page.block.importance) if page.block.kind is BlockKind.HERO else 0
        left, right = sheet_of_page[at], sheet_of_page[at + 1]
        if left == right:  # the same sheet on both sides of the fold: the centre
            continue
        if left[0] != right[0]:
            total += prices.spread_between + prices.hero_between * hero
        else:
            total += prices.hero_inner * hero if hero else prices.spread_inner
    return total


def number_sheets(sizes: tuple[int, ...]) -> list[tuple[int, int]]:
    """Give (gathering, sheet) for each page, by nesting numbered sheets."""
    numbered = []
    for gathering, size in enumerate(sizes):
        for sheet in nest([str(sheet) for sheet in range(size)]):
            numbered += [(gathering, int(sheet))] * 2  # a leaf has two pages
    return numbered


def price_folds(pages: list[Page | None], draft: Draft, prices: Prices) -> int:
    """Price translucent leaves, each in its cheapest role; raises RuleBrokenError."""
    ends = find_ends(draft.sizes, draft.folds)
    if len(ends) != len(draft.folds):
        raise RuleBrokenError("two translucent sheets in one place")
    taken: dict[int, str] = {}
    total = 0
    for name, (front, back) in ends.items():
        kinds = [classify(pages, front), classify(pages, back)]
        if "wanted" not in kinds:
            raise RuleBrokenError("a translucent sheet for nothing")
        if front == back:
            total += prices.interleaf_double
        else:
            total += sum(cheapest_end(kind, prices) for kind in kinds)
        for after in {front, back}:
            if after in taken:
                raise RuleBrokenError("two leaves in one gap")
            taken[after] = name
    for after in draft.tips:
        if after in taken or classify(pages, after) != "wanted":
            raise RuleBrokenError("a leaf pasted in for nothing")
        taken[after] = "pasted"
        total += prices.tip_in
    for after in range(0, len(pages) + 1, 2):
        if classify(pages, after) == "wanted" and after not in taken:
            raise RuleBrokenError(f"no leaf after page {after}")
    return total


def evaluate(
    story: Story,
    draft: Draft,
    sheets: Sheets,
    prices: Prices,
    kept: frozenset[int] = frozenset(),
) -> int:
    """Build the book and give its cost; raises RuleBrokenError where it cannot be."""
    pages = lay_pages(story, draft)
    return (
        price_told(story, draft.told, prices)
        + price_end(pages, draft.sizes, prices)
        + price_sizes(draft.sizes, sheets, prices, kept)
        + price_pictures(pages, draft.sizes, prices)
        + price_folds(pages, draft, prices)
    )


def read_plan(story: Story, plan: Plan, prices: Prices) -> Draft:
    """Give the decisions behind a plan; raises RuleBrokenError where it contradicts itself.

    Page numbers, ends and roles of the plan are compared with what its sheets come out to.
    """
    index_of = {block.id: index for index, block in enumerate(story.blocks)}
    ways = dict(plan.choices)
    told: list[tuple[int, int, int]] = []
    whites = 0
    for page in plan.pages:
        if page.block is None:
            whites += 1
        elif page.part == 0:
            told.append((index_of[page.block], ways[page.block], whites))
            whites = 0
        elif whites:
            raise RuleBrokenError("a white page inside a block")
    sizes = tuple(gathering.sheets for gathering in plan.gatherings)
    folds = tuple((i.gathering - 1, i.depth) for i in plan.interleaves if i.depth is not None)
    tips = tuple(i.ends[0].after_page for i in plan.interleaves if i.depth is None)
    draft = Draft(tuple(told), sizes, folds, tips)
    _compare(story, plan, draft, prices)
    return draft


def _compare(story: Story, plan: Plan, draft: Draft, prices: Prices) -> None:
    pages = lay_pages(story, draft)
    built = [(p.block.id, p.part) if p is not None else (None, 0) for p in pages]
    if [(p.block, p.part) for p in plan.pages] != built:
        raise RuleBrokenError("the pages are not those of the blocks in this order")
    ends = find_ends(draft.sizes, draft.folds)
    for interleaf in plan.interleaves:
        if interleaf.depth is None:
            continue
        said = [end.after_page for end in interleaf.ends]
        if said != ends[name_fold(interleaf.gathering - 1, interleaf.depth)]:
            raise RuleBrokenError(f"the leaves said to lie after {said} come out elsewhere")
        if said[0] == said[1]:
            continue
        for end in interleaf.ends:
            kind = classify(pages, end.after_page)
            if list_roles(kind, prices).get(end.role) != cheapest_end(kind, prices):
                raise RuleBrokenError(f"a leaf after page {end.after_page} as {end.role}")
