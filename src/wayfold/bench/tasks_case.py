"""The work on the case in words, with this book's measures: boards, cover, pocket, casing in."""

from __future__ import annotations

from collections.abc import Iterator

from wayfold.base.geometry import Size
from wayfold.bench.cautions import GLUE, KNIFE, PRESS
from wayfold.bench.figures_case import draw_casing_in, draw_corner, draw_inside
from wayfold.bench.figures_pocket import draw_pocket
from wayfold.bench.flow import Aside, Step, Task, care, drying, measured, why
from wayfold.bench.hours import Work, count_minutes, tell_time
from wayfold.bench.worksheet import Hand
from wayfold.book.casing import CaseStyle, SpinePiece
from wayfold.case.measure import CaseMeasures
from wayfold.case.pocket import PocketBlank, pile_thickness, size_wrap
from wayfold.case.work import CaseWork


def list_case_tasks(hand: Hand, work: CaseWork, amount: Work) -> tuple[Task, ...]:
    """Give the work on the case, in order."""
    minutes = count_minutes(amount, work.book.bench.hand)
    tasks = [_boards(work, minutes), _cover(hand, work, minutes)]
    tasks.append(_case_in(hand, work, minutes))
    if work.pocket is not None:
        tasks.append(_pocket(hand, work, minutes))
    return tuple(tasks)


def _mm(size: Size) -> str:
    return f"{size.width:.1f} × {size.height:.1f} mm"


def _not_measured(work: CaseWork) -> tuple[Aside, ...]:
    if work.block.measured is not None:
        return ()
    return (
        care(
            "The block is not measured yet: every width on this sheet that goes across the spine "
            "is reckoned. Measure first, then cut."
        ),
    )


def _boards(work: CaseWork, minutes: dict[str, float]) -> Task:
    case = work.case
    stiff = case.casing.spine is SpinePiece.BOARD
    spine = "board" if stiff else f"card of {case.casing.card:g} mm"
    return Task(
        "boards",
        "Boards",
        "Two boards and a spine piece, cut as the cutting plan shows, grain along the spine.",
        (
            Step(
                "grain",
                "Find the grain of the board: it bends more easily about an axis along the grain. "
                "Mark it on the back with a pencil.",
                (why("Boards with the grain across the spine warp both ways."),),
            ),
            Step(
                "boards",
                f"Cut two boards of {case.board.width:.1f} × {case.board.height:.1f} mm from "
                f"{case.casing.board:g} mm board, the first measure across.",
                (
                    care(KNIFE + " Stand to cut board, and rest when tired."),
                    measured(
                        f"Page {case.block.page.width:g} − {case.casing.board_less:g} across; "
                        f"{case.block.page.height:g} + 2 × {case.casing.square:g} along."
                    ),
                ),
            ),
            Step(
                "spine-piece",
                f"Cut the spine piece, {case.spine.width:.1f} × {case.spine.height:.1f} mm, from "
                f"{spine}.",
                _not_measured(work),
            ),
            *_shape_piece(case),
            Step(
                "compare",
                "Lay the two boards edge to edge: they must be the same size to half a millimetre, "
                "and square. Break the sharp edges with fine sandpaper.",
            ),
        ),
        tools="knife or board shear, steel rule, square, cutting mat, pencil, fine sandpaper",
        time=tell_time(minutes["cutting the boards"]),
    )


def _shape_piece(case: CaseMeasures) -> Iterator[Step]:
    if case.is_round:
        yield Step(
            "shape",
            "Draw the spine piece over a rod or the edge of the bench, along its grain, until it "
            "lies on the round of the block by itself.",
            (why("Else it stands off the middle of the spine, and the joints are drawn open."),),
        )


def _cover(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    case = work.case
    steps = [
        Step(
            "places",
            "Draw the places of boards and spine piece on the back of the cloth: "
            f"{case.joint:g} mm between each, {case.casing.turn_in:g} mm of cloth beyond head and "
            "tail. Cut two strips of card as wide as the gap and use them to set the boards.",
            _not_measured(work),
            by=f"Boards {_mm(case.board)}, spine piece {_mm(case.spine)}.",
        ),
        Step(
            "glue",
            "Glue the cloth (or the boards) evenly from the middle outwards on waste paper, take "
            "the waste away, and lay the first board. Set the spine piece and the second board "
            "with the strips. Turn over and rub down through paper.",
            (care(GLUE), why("Waste paper left lying carries glue where it should not be.")),
        ),
    ]
    if case.side is not None:
        what = "paper" if case.casing.style is CaseStyle.QUARTER_CLOTH else "printed cloth"
        first = (
            f"The spine cloth is {case.wrap.width:.1f} × {case.wrap.height:.1f} mm and lies "
            f"{case.cloth_on_board:g} mm on each board. Turn it in at head and tail."
        )
        steps.append(Step("spine-cloth", first))
        steps.append(
            Step(
                "sides",
                f"Glue the sides, printed {what} of {case.side.width:.1f} × "
                f"{case.side.height:.1f} mm, over the cloth by {case.casing.overlap:g} mm, the "
                "long edge parallel to the spine. Then turn in as drawn.",
                (
                    drying("Print the sides a day before; the ink must be dry."),
                    care(
                        "Water-based glue softens inkjet ink: thin glue, little of it, and rub "
                        "down only through paper."
                    ),
                ),
            )
        )
    else:
        steps.append(
            Step(
                "cloth",
                f"The cloth is {case.wrap.width:.1f} × {case.wrap.height:.1f} mm, its grain (the "
                "warp) along the spine.",
            )
        )
    steps += [
        Step(
            "mitre",
            f"Mitre the four corners: cut at 45°, {case.mitre:g} mm from the corner of the board "
            "(the mitre template does it). Turn in head and tail, tuck the corners with the bone, "
            "then the fore-edges.",
            (care(KNIFE), measured(f"Turn-ins {case.casing.turn_in:g} mm all round.")),
        ),
        Step(
            "infill",
            f"Fill the inside of each board between its turn-ins with a paper of "
            f"{case.infill.width:.1f} × {case.infill.height:.1f} mm, grain along the spine.",
            (why("It pulls against the cover, so that the boards stay flat."),),
        ),
        Step("press", "Press the case flat between blotters.", (drying("Overnight."), care(PRESS))),
    ]
    if case.casing.style is CaseStyle.FULL_CLOTH:
        steps.append(
            Step(
                "labels",
                "Cut out the labels of case.pdf and paste them on front board and spine when dry.",
            )
        )
    elif case.casing.style is CaseStyle.QUARTER_CLOTH:
        steps.append(
            Step("spine-label", "Cut out the spine label of case.pdf and paste it on when dry.")
        )
    return Task(
        "cover",
        "Cover",
        f"{case.casing.style.value.replace('-', ' ').capitalize()}, drawn from inside. All "
        "measures in mm; the grain of every piece runs along the spine.",
        tuple(steps),
        (draw_inside(hand, case), draw_corner(hand, case)),
        tools="brush, bone folder, knife, steel rule, waste paper, blotters, two strips of card",
        time=tell_time(minutes["covering the case"]),
    )


def _pocket(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    pocket, items = work.pocket, work.book.bench.pocket.items
    assert pocket is not None
    pile = pile_thickness(work.book.bench.pocket)
    names = ", ".join(f"{i.name} {i.width:g} × {i.height:g} × {i.thickness:g}" for i in items)
    biggest = max(items, key=lambda i: i.width * i.height)
    wrap = size_wrap(biggest)
    return Task(
        "pocket",
        "Pocket",
        f"For {names} mm; together {pile:g} mm thick.",
        (
            Step(
                "blank",
                f"Cut the blank, {pocket.blank.width:.1f} × {pocket.blank.height:.1f} mm, grain "
                "upright, from strong paper; templates.pdf has it at full size where it fits. Cut "
                "the two lower corners away.",
                (care(KNIFE),),
            ),
            Step(
                "score",
                "Score all folds along a rule, then fold as the dashes say.",
                by=_list_folds(pocket),
            ),
            Step(
                "paste",
                "Glue only the three flaps. Lay the pocket on the inside of the lower cover, after "
                "the endpaper is pasted down and dry, open side to the head, 5 mm or more from "
                "every edge.",
                (drying("Overnight under a light weight, with waxed paper inside."), care(GLUE)),
            ),
            Step(
                "wrap",
                "Or wrap: one piece folded about the contents, as libraries keep pamphlets, takes "
                f"{wrap.width:.0f} × {wrap.height:.0f} mm for the largest of them.",
                (why("2.25 lengths + 2 thicknesses + 5 cm by a width + 2 thicknesses + 5 cm."),),
            ),
        ),
        (draw_pocket(hand, pocket),),
        tools="knife, steel rule, bone folder, glue",
        time=tell_time(minutes["the pocket"]),
    )


def _list_folds(pocket: PocketBlank) -> str:
    across, down = (
        ", ".join(f"{fold:.1f}" for fold in folds) for folds in (pocket.folds_x, pocket.folds_y)
    )
    return f"Folds at {across} mm from the left, and {down} mm from the head."


def _case_in(hand: Hand, work: CaseWork, minutes: dict[str, float]) -> Task:
    case = work.case
    return Task(
        "casing-in",
        "Casing in",
        "The block goes into its case; nothing is glued to the spine piece.",
        (
            Step(
                "dry-fit",
                f"Set the block into the case dry: squares of {case.casing.square:g} mm at head "
                f"and tail, and even ones at the fore-edge ({case.square_fore[0]:.1f} to "
                f"{case.square_fore[1]:.1f} mm, by how deep the joint is pressed).",
            ),
            Step(
                "paste",
                "Lay waxed paper under the first endpaper leaf. Glue mull to leaf, then the whole "
                "leaf from the middle outwards; take the waste away and close the board on it "
                "without lifting it again.",
                (care(GLUE), why("A pasted leaf stretches; opened too soon it tears or creases.")),
            ),
            Step("other-end", "Turn the book over and do the same at the other end."),
            Step(
                "joints",
                "Press a knitting needle or a brass rod into both joints and bone them down.",
            ),
            Step(
                "press",
                "Press between boards that stop at the joints, waxed paper and blotters inside "
                "each cover.",
                (
                    drying(
                        "24 hours under weight; change the blotters after 1 hour and after 4 hours."
                    ),
                    care(PRESS + " Keep the boards off the joints."),
                ),
            ),
            Step(
                "first-opening",
                "Open it the first time a few leaves at each end by turns, pressing along the "
                "folds. Leave it under a light weight for some days.",
                (drying("Boards may still draw for a week or two; weight them while they do."),),
            ),
        ),
        (draw_casing_in(hand, work.case),),
        tools="brush, waste paper, waxed paper, blotters, rods, press or weights",
        time=tell_time(minutes["casing in"]),
    )
