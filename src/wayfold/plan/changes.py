"""What differs between two plans of one story, in words a maker would use."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator

from wayfold.plan.facing import list_crossings
from wayfold.plan.model import EndRole, Plan
from wayfold.story.model import BlockKind, Story

LEAVES = {
    EndRole.ECHO: ("translucent leaf with a caption", "translucent leaves with captions"),
    EndRole.PLAIN: ("plain translucent leaf", "plain translucent leaves"),
    EndRole.STUB: ("translucent stub", "translucent stubs"),
    None: ("pasted-in leaf", "pasted-in leaves"),
}
"""What the leaves are called whose number a plan should keep low."""


def describe_changes(
    story: Story, old: Plan, new: Plan, *, told: Story | None = None
) -> tuple[str, ...]:
    """Say what the new plan does otherwise, the story first, then the paper.

    ``told`` is the story that the old plan lays, where that is another.
    """
    told = told or story
    return (
        *_compare_blocks(old, new),
        *_compare_ways(told, story, old, new),
        *_compare_pictures(told, story, new),
        *_compare_order(told, story, old, new),
        *_compare_whites(old, new),
        *_compare_heroes(told, story, old, new),
        *_compare_paper(old, new),
        *_compare_leaves(old, new),
    )


def list_rewayed(old: Plan, new: Plan) -> tuple[str, ...]:
    """Give the blocks that are laid in another way."""
    before = dict(old.choices)
    return tuple(block for block, way in new.choices if before.get(block, way) != way)


def list_turned(story: Story, plan: Plan) -> tuple[tuple[str, str], ...]:
    """Give the pairs of blocks told in exchange: the one told first, then the one it overtook."""
    told = {block.id: at for at, block in enumerate(story.blocks)}
    order = [p.block for p in plan.pages if p.block is not None and p.part == 0]
    return tuple((a, b) for a, b in itertools.pairwise(order) if told[a] > told[b])


def _compare_blocks(old: Plan, new: Plan) -> Iterator[str]:
    before, after = dict(old.choices), dict(new.choices)
    yield from (f"{block} goes" for block in before if block not in after)
    yield from (f"{block} comes in" for block in after if block not in before)


def _compare_pictures(told: Story, story: Story, new: Plan) -> Iterator[str]:
    before = {block.id: block.photos for block in told.blocks}
    for block in story.blocks:
        if block.photos != before.get(block.id, block.photos):
            yield f"{block.id} comes to page {new.first_page_of(block.id)}"


def _compare_ways(told: Story, story: Story, old: Plan, new: Plan) -> Iterator[str]:
    before = dict(old.choices)
    for block, way in new.choices:
        if block not in before:
            continue
        was = told.block(block).alternatives[before[block]].pages
        now = story.block(block).alternatives[way].pages
        if now != was:
            word = "gains" if now > was else "gives up"
            yield f"{block} {word} {_count(abs(now - was), 'page')}"
        elif way != before[block]:
            yield f"{block} is laid another way"


def _compare_order(told: Story, story: Story, old: Plan, new: Plan) -> Iterator[str]:
    before, after = set(list_turned(told, old)), set(list_turned(story, new))
    both = dict(old.choices).keys() & dict(new.choices).keys()
    for first, second in sorted(after - before):
        if both >= {first, second}:
            yield f"{first} moves before {second}"
    for first, second in sorted(before - after):
        if both >= {first, second}:
            yield f"{second} moves before {first}"


def _compare_whites(old: Plan, new: Plan) -> Iterator[str]:
    before, after = _whites_before(old), _whites_before(new)
    for block in {**before, **after}:
        more = after.get(block, 0) - before.get(block, 0)
        where = f"before {block}" if block else "at the end"
        if more:
            yield f"{_count(abs(more), 'white page')} {'more' if more > 0 else 'fewer'} {where}"


def _compare_heroes(told: Story, story: Story, old: Plan, new: Plan) -> Iterator[str]:
    before, after = _centred(told, old), _centred(story, new)
    stay = dict(new.choices)
    left = (block for block in before if block not in after and block in stay)
    yield from (f"{block} leaves its centre" for block in left)
    yield from (f"{block} comes to a centre" for block in after if block not in before)


def _compare_paper(old: Plan, new: Plan) -> Iterator[str]:
    was, now = ([g.sheets for g in plan.gatherings] for plan in (old, new))
    if was == now:
        return
    same = sum(1 for _ in itertools.takewhile(_agree, zip(was, now, strict=False)))
    was, now = was[same:], now[same:]
    ends = zip(reversed(was), reversed(now), strict=False)
    tail = sum(1 for _ in itertools.takewhile(_agree, ends))
    before, after = (" ".join(map(str, s[: len(s) - tail])) or "none" for s in (was, now))
    yield f"from gathering {same + 1} the sheets are {after} instead of {before}"


def _compare_leaves(old: Plan, new: Plan) -> Iterator[str]:
    before, after = _count_leaves(old), _count_leaves(new)
    for what, (one, many) in LEAVES.items():
        more = after[what] - before[what]
        if more:
            yield f"{_count(abs(more), one, many)} {'more' if more > 0 else 'fewer'}"


def _count_leaves(plan: Plan) -> Counter[EndRole | None]:
    """Count the translucent leaves that nobody asked for by role; None those pasted in."""
    pasted = Counter({None: sum(i.depth is None for i in plan.interleaves)})
    return pasted + Counter(end.role for i in plan.interleaves for end in i.ends)


def _agree(pair: tuple[int, int]) -> bool:
    return pair[0] == pair[1]


def _centred(story: Story, plan: Plan) -> list[str]:
    centres = {g.centre[0] for g in plan.gatherings}
    crossings = list_crossings(story, plan)
    return [b.id for b, page in crossings if b.kind is BlockKind.HERO and page in centres]


def _whites_before(plan: Plan) -> dict[str, int]:
    """Give the white pages before each block that has any; "" stands for the book's end."""
    whites: dict[str, int] = {}
    run = 0
    for page in plan.pages:
        if page.block is None:
            run += 1
        elif run:
            whites[page.block] = run
            run = 0
    return {**whites, "": run} if run else whites


def _count(number: int, one: str, many: str = "") -> str:
    words = {1: "one", 2: "two", 3: "three", 4: "four"}
    return f"{words.get(number, number)} {one if number == 1 else many or one + 's'}"
