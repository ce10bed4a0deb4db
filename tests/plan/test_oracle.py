"""The planner against brute force: every plan of a small story, priced from first principles."""

import itertools
import random
from collections.abc import Iterator

import pytest

from wayfold.base.findings import Severity
from wayfold.book.materials import Binding, Paper
from wayfold.plan.gatherings import SheetRange, allow_sheets
from wayfold.plan.model import Plan
from wayfold.plan.planner import plan_book
from wayfold.plan.prices import PRICES
from wayfold.plan.verify import verify_plan
from wayfold.story.model import Alternative, Block, BlockKind, Start, Story


def make_story(chance: random.Random) -> Story:
    blocks = []
    for i in range(chance.randint(1, 4)):
        kind = chance.choice(
            [BlockKind.HERO, BlockKind.GROUP, BlockKind.OPENER, BlockKind.TEXT, BlockKind.SINGLE]
        )
        if i and chance.random() < 0.15:
            kind = BlockKind.COLOPHON
        ways = tuple(make_way(chance, kind) for _ in range(chance.randint(1, 2)))
        blocks.append(Block(f"b{i}", kind, ways, importance=chance.randint(0, 5)))
    return Story((), tuple(blocks))


def make_way(chance: random.Random, kind: BlockKind) -> Alternative:
    cost = chance.choice([0, 0, 3, 11, 30])
    if kind is BlockKind.OPENER:
        return Alternative(1, cost, Start.RECTO)
    if kind is BlockKind.HERO:
        return Alternative(2, cost, chance.choice([Start.VERSO, Start.ANY]), (0,))
    if kind is BlockKind.GROUP and chance.random() < 0.6:
        return chance.choice(
            [Alternative(2, cost, Start.ANY, (0,)), Alternative(4, cost, Start.ANY, (1,))]
        )
    return Alternative(
        chance.choice([1, 2, 3, 5, 6, 13]), cost, chance.choice([Start.ANY, Start.VERSO])
    )


def every_plan(
    story: Story, sheets: SheetRange
) -> Iterator[tuple[list[str | None], list[int], int]]:
    """All page lists and gathering sizes that keep the rules, with what the alternatives cost."""
    choices = [
        [(way, blanks) for way in block.alternatives for blanks in range(4)]
        for block in story.blocks
    ]
    for combination in itertools.product(*choices):
        pages: list[str | None] = []
        for block, (way, blanks) in zip(story.blocks, combination, strict=True):
            needs = way.start
            for at in way.spreads:
                needs = Start.VERSO if at % 2 == 0 else Start.RECTO
            if blanks > (3 if block.kind is BlockKind.COLOPHON else 0 if needs is Start.ANY else 1):
                break
            pages += [None] * blanks
            recto = len(pages) % 2 == 0
            if (needs is Start.RECTO and not recto) or (needs is Start.VERSO and recto):
                break
            pages += [block.id] * way.pages
        else:
            cost = sum(way.cost for way, _ in combination)
            for sizes in every_paper(len(pages), sheets):
                yield pages + [None] * (4 * sum(sizes) - len(pages)), sizes, cost


def every_paper(pages: int, sheets: SheetRange) -> Iterator[list[int]]:
    def grow(sizes: list[int]) -> Iterator[list[int]]:
        if 4 * sum(sizes) >= pages:
            yield sizes
            return
        for size in sheets.sizes:
            yield from grow([*sizes, size])

    yield from grow([])
    for size in range(1, sheets.least):
        if sheets.thinner_alone and 4 * size >= pages:
            yield [size]


def price(story: Story, plan: Plan, preferred: int) -> int:
    """Price a finished plan by looking at its pages and sheets only."""
    kinds = {block.id: block for block in story.blocks}
    total = 0
    for block_id, index in plan.choices:
        total += kinds[block_id].alternatives[index].cost
    return total + price_pages(
        story,
        [p.block for p in plan.pages],
        [g.sheets for g in plan.gatherings],
        preferred,
        dict(plan.choices),
    )


def price_pages(
    story: Story,
    pages: list[str | None],
    sizes: list[int],
    preferred: int,
    choices: dict[str, int],
) -> int:
    total = 0
    for size in sizes:
        total += PRICES.sheet * size + PRICES.size_off * abs(size - preferred)
    total += PRICES.size_unlike * sum(a != b for a, b in itertools.pairwise(sizes))
    centres, seams, end = set(), set(), 0
    for size in sizes:
        centres.add(end + 2 * size)
        end += 4 * size
        seams.add(end)
    blocks = {block.id: block for block in story.blocks}
    for number, block_id in enumerate(pages, start=1):
        if block_id is None:
            following = next((b for b in pages[number:] if b is not None), None)
            if following is None:
                total += PRICES.blank_at_end
            elif blocks[following].kind is BlockKind.COLOPHON:
                total += PRICES.blank_before_colophon
            elif number % 2 == 0:
                total += PRICES.blank_before_recto
            else:
                total += PRICES.blank_before_verso
    white_tail = len(list(itertools.takewhile(lambda b: b is None, reversed(pages))))
    total += PRICES.blank_too_many * max(0, white_tail - 3)  # a sheet has four pages
    for block in story.blocks:
        first = pages.index(block.id) + 1
        hero = max(1, block.importance) if block.kind is BlockKind.HERO else 0
        for at in block.alternatives[choices[block.id]].spreads:
            verso = first + at
            if verso in seams:
                total += PRICES.spread_between + PRICES.hero_between * hero
            elif verso not in centres:
                total += PRICES.hero_inner * hero if hero else PRICES.spread_inner
    return total


def cheapest_by_force(story: Story, sheets: SheetRange) -> int:
    best = None
    for pages, sizes, cost in every_plan(story, sheets):
        choices = {
            b.id: next(i for i, w in enumerate(b.alternatives) if w.pages == pages.count(b.id))
            for b in story.blocks
        }
        total = cost + price_pages(story, pages, sizes, sheets.preferred, choices)
        best = total if best is None else min(best, total)
    assert best is not None
    return best


@pytest.mark.parametrize("seed", range(200))
def test_planner_finds_the_cheapest(seed: int) -> None:
    chance = random.Random(seed)
    story = make_story(chance)
    # The oracle tells alternatives apart by their length.
    story = Story(
        (),
        tuple(
            Block(
                b.id,
                b.kind,
                tuple({w.pages: w for w in b.alternatives}.values()),
                importance=b.importance,
            )
            for b in story.blocks
        ),
    )
    paper = Paper(caliper_um=chance.choice([120.0, 240.0, 400.0]))
    binding = Binding(sheets_min=chance.choice([None, 1]), sheets_max=3)
    sheets, _ = allow_sheets(paper, binding)
    assert sheets is not None
    result = plan_book(story, paper, binding)
    assert result.plan is not None
    broken = [f for f in verify_plan(story, result.plan) if f.severity is Severity.BLOCK]
    assert broken == []
    assert price(story, result.plan, sheets.preferred) == result.cost
    assert result.cost == cheapest_by_force(story, sheets)
