"""The work on the block in words, with this book's measures: pricking, sewing, pressing, lining."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.counts import count_of
from wayfold.base.mends import Mend
from wayfold.bench.cautions import AWL, GLUE, PRESS
from wayfold.bench.figures_block import (
    draw_lining,
    draw_pressing,
    draw_pricking,
    draw_round,
    draw_sewing,
)
from wayfold.bench.flow import Step, Task, care, drying, measured, why
from wayfold.bench.hours import Work, count_minutes, tell_time
from wayfold.bench.worksheet import Hand
from wayfold.book.casing import SewingMethod
from wayfold.case.measure import CaseMeasures
from wayfold.case.thread import NEEDLEFUL, thread_diameter, thread_length
from wayfold.case.work import CaseWork
from wayfold.press.signatures import signature_of


def list_block_tasks(hand: Hand, work: CaseWork, amount: Work) -> tuple[Task, ...]:
    """Give the work on the block, in order."""
    minutes = count_minutes(amount, work.book.bench.hand)
    return (
        _prick(hand, work, minutes),
        _sew(hand, work, minutes),
        _press(hand, work),
        _line(hand, work, minutes),
    )


def _prick(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    stations = work.stations
    holes = len(stations.holes)
    at = f"Holes at {', '.join(f'{hole:.1f}' for hole in stations.holes)} mm from the head."
    return Task(
        "pricking",
        "Pricking",
        f"{holes} holes in the fold of every gathering, all alike.",
        (
            Step(
                "strip",
                "Print the pricking strip of templates.pdf at 100 % and check its ruler and its "
                "square. Fold it along its line.",
                (measured("The square is 100 mm both ways, within half a millimetre."),),
                by=at,
            ),
            Step(
                "prick",
                "Open a gathering at its centre in a trough, lay the strip into the fold with its "
                "head at the head of the pages, and prick through all sheets at every mark.",
                (care(AWL),),
                by=at,
            ),
            Step(
                "prick-all",
                "Prick all gatherings with their heads the same way. Holes as fine as the thread "
                "allows: no wider than the needle.",
                (
                    measured(
                        f"Thread {thread_diameter(work.book.bench.sewing):.2f} mm; pricker about "
                        "as thick."
                    ),
                ),
            ),
        ),
        (draw_pricking(hand, stations, work.block.page.height),),
        tools="pricker or fine awl, trough or foam, the strip",
        time=tell_time(minutes["pricking"]),
    )


def _sew(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    stations, block, sewing = work.stations, work.block, work.book.bench.sewing
    count, height = block.gatherings, block.page.height
    total = thread_length(height, count)
    method = "on tapes" if stations.method is SewingMethod.TAPES else "with the link stitch"
    pieces = max(1, -(-int(total) // int(min(4.5 * height, max(NEEDLEFUL, 4 * height)))))
    last = len(stations.holes)
    way = ", ".join(f"{'in' if at % 2 == 0 else 'out'} at {at + 1}" for at in range(last))
    tapes = stations.method is SewingMethod.TAPES
    across = "over the tape" if tapes else "across the spine"
    steps = [
        Step(
            "thread",
            f"Cut thread: {total / 1000:.1f} m in all, in {count_of(pieces, 'length')}. Draw it "
            "over beeswax once.",
            (
                why("More than five heights of the book at once tangles."),
                measured(_name_thread(work)),
            ),
        ),
    ]
    if tapes:
        steps.append(
            Step(
                "tapes",
                f"Stretch {count_of(len(stations.pairs), 'tape')} of {sewing.tape:g} mm upright, "
                "each at its pair of holes, with 60 mm to spare below and above.",
            )
        )
    steps += [
        Step(
            "first",
            f"Lay gathering {signature_of(1)} with its spine to you, its head to the left. Sew: "
            f"{way}; between out and in the thread runs {across}. Leave 60 mm of thread at hole 1.",
            (care(AWL),),
        ),
        Step(
            "second",
            f"Lay gathering {signature_of(2)} on it and sew back from {last} to 1"
            + ("." if tapes else ", passing under the stitch below at every pair (link stitch).")
            + " Knot to the end that was left.",
        ),
    ]
    if count > 2:
        steps.append(
            Step(
                "kettles",
                "From the third gathering on, at the end of each make a kettle stitch: pass the "
                "needle between the two gatherings below, round their stitch, and up through the "
                "loop.",
                (
                    care(
                        "Do not pull kettles tight: head and tail would become thinner than the "
                        "middle."
                    ),
                ),
            )
        )
    steps += [
        Step(
            "pull",
            "Pull the thread along the fold, never at right angles to it. Snug, not taut.",
            (why("Thread pulled outwards tears the paper at the hole."),),
        ),
        Step(
            "go-on",
            f"Go on to gathering {signature_of(count)}. Join a new length with a weaver's knot "
            "inside the fold. End with two kettle stitches.",
        ),
        Step("count", "Count: pages run on, heads stand even, the stair on the spine is unbroken."),
    ]
    return Task(
        "sewing",
        "Sewing",
        f"{count_of(count, 'gathering')} sewn all along, {method}, "
        f"{count_of(last, 'hole')}; {total / 1000:.1f} m of thread.",
        tuple(steps),
        (draw_sewing(hand, stations, height, count),),
        tools="blunt needle, linen thread, beeswax, scissors" + (", tapes" if tapes else ""),
        time=tell_time(minutes["sewing"]),
    )


def _name_thread(work: CaseWork) -> str:
    sewing = work.book.bench.sewing
    if sewing.thread is not None:
        return f"The thread is {sewing.thread:g} mm thick, as measured."
    return (
        f"Linen {sewing.thread_lea:g}/{sewing.thread_ply}, about "
        f"{thread_diameter(sewing):.2f} mm. Measure yours: wind ten turns close on a pencil, "
        "divide by ten."
    )


def _press(hand: Hand, work: CaseWork) -> Task:
    block = work.block
    low, high = block.range
    told = (
        f"It was measured at {block.measured:g} mm, and the case is made for that."
        if block.measured is not None
        else f"These sheets reckon with {block.estimate:.1f} mm; it may well be {low:.1f} to "
        f"{high:.1f}."
    )
    steps = [
        Step("knock-up", "Knock up the block on its spine and its head until both are even."),
        Step(
            "press",
            "Press it between boards, spine just outside of them. Work the swell down with the "
            "bone along the spine.",
            (drying("Overnight."), care(PRESS + " Boards overlap the book evenly.")),
        ),
        Step(
            "measure",
            "Measure the thickness at the spine at head, middle and tail. Write the mean here and "
            f"into the book ({Mend.BLOCK}), and make these sheets again.",
            (measured("block ________ mm"),),
        ),
    ]
    if block.strips:
        strip = work.book.bench.pocket.strip_um
        count = round(block.strips * 1000 / strip)
        steps.insert(
            0,
            Step(
                "strips",
                f"Before pressing, lay {count} strips of {strip:g} µm paper, 10 mm wide and "
                f"{block.page.height:g} mm high, between the last gathering and the endpaper, "
                "sewn or glued to each other at the spine only.",
                (why("They make up at the spine for the pocket; else the book gapes."),),
            ),
        )
    return Task(
        "pressing",
        "Pressing and measuring",
        f"The case is cut to this measure. {told}",
        tuple(steps),
        (draw_pressing(hand, work.case),),
        tools="two boards, press or weights of 5 kg or more, calliper or steel rule",
        time="15 minutes",
    )


def _round_back(case: CaseMeasures) -> Iterator[Step]:
    """Rounding, as it is commonly taught; no single source."""
    if not case.is_round:
        return
    yield Step(
        "round",
        "When the glue no longer sticks but still gives, lay the block flat, thumb against the "
        "fore-edge. Draw the upper half of the spine towards you with the fingers, and tap along "
        "it lightly with a hammer, glancing from the middle outwards. Turn the block over and do "
        "the same, by turns, until the spine is an even third of a circle.",
        (
            care("Keep the fingers off the spine while the hammer falls; light strokes only."),
            measured(
                f"{case.back_rise:.1f} mm out at the middle, "
                f"{case.back_width:.1f} mm over the round: lay a strip of paper over it."
            ),
        ),
    )
    yield Step(
        "hold-round",
        "Press the block in this shape, boards up to the spine and no farther. Where it measures "
        "otherwise over the round, cut mull, lining, hollow and spine piece to what you measured.",
        (drying("Overnight."), care(PRESS)),
    )


def _line(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    case = work.case
    end = case.endpaper
    hollow = case.hollow
    return Task(
        "lining",
        "Endpapers, mull and lining",
        "Endpapers are tipped on, then the spine is glued, covered with mull and lined.",
        (
            Step(
                "endpapers",
                f"Fold the two endpapers, {end.width:g} × {end.height:g} mm, grain along the fold. "
                "Glue 3 mm along the fold of each and lay it on the first and on the last page, "
                "fold to the spine.",
                (drying("30 minutes under a light weight."), care(GLUE)),
            ),
            Step(
                "glue-spine",
                "Stand the block in the press, spine up. Glue the spine thinly, working it between "
                "the gatherings with a finger or a stiff brush; none may run between the leaves.",
                (drying("PVA 20 to 30 minutes, paste longer: cool to the touch is still damp."),),
            ),
            *_round_back(case),
            Step(
                "mull",
                f"Lay on the mull, {case.mull.width:.0f} × {case.mull.height:.0f} mm, with "
                f"{case.casing.mull_beyond:g} mm standing out at each side. Rub it down.",
            ),
            Step(
                "headbands",
                f"Glue a headband to the head and to the tail: a strip {case.headband.width:.1f} × "
                f"{case.headband.height:g} mm folded over a cord, the cord just above the page "
                "edges.",
            ),
            Step(
                "lining",
                f"Glue the lining, {case.lining.width:.1f} × {case.lining.height:.0f} mm, over "
                "mull and bands, grain along the spine.",
            ),
            Step(
                "hollow",
                "For a hollow back fold the piece of "
                f"{hollow.width:.1f} × {hollow.height:.0f} mm in three to a flat tube as wide as "
                "the spine, and glue one side of it to the lining.",
                (
                    why("The spine can throw up as the book opens, so that it lies flat."),
                    drying("Overnight."),
                ),
            ),
        ),
        (draw_lining(hand, case), *((draw_round(hand, case),) if case.is_round else ())),
        tools="PVA or paste, brush, bone folder, waste paper, waxed paper",
        time=tell_time(minutes["gluing and lining the spine"] + minutes["endpapers"]),
    )
