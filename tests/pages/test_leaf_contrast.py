"""Whether what is printed on a leaf stands out over the page beneath.

The theory is Kubelka and Munk's (1931), the contrasts asked for are WCAG 2.1's (1.4.3 and 1.4.11):
4.5 for text below 18 pt, 3 above and for lines. That the worst text-sized patch decides, not the
mean, is common practice, no single source.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Affine, Point, Rect, Size
from wayfold.book.see_through import Sheet
from wayfold.drawing.colour import BLACK, Colour
from wayfold.drawing.items import Contour, Drawing, Item, Placed, Shape, Stroke, Text
from wayfold.drawing.text import Align, Paragraph, Run, TextStyle
from wayfold.layout.model import BookLayout, PageLayout, PictureFrame
from wayfold.pages.country_place import AIR, COMFORT, SCALES, place_country
from wayfold.pages.ground import Ground, read_ground
from wayfold.pages.interleaves import InterleafLeaf
from wayfold.pages.leaf_contrast import RULE, prove_leaves
from wayfold.pages.leaf_marks import judge_items, list_marks
from wayfold.photos.lightness import Lightness
from wayfold.photos.look import Look, Salience
from wayfold.plan.model import EndRole

SHEET = Sheet(0.25, 0.68)
TRIM = Size(210.0, 297.0)
FULL = PictureFrame(Rect(0, 0, 210, 297), "p")


def word(
    box: Rect, size_pt: float = 10.0, colour: Colour = BLACK, align: Align = Align.LEFT
) -> Text:
    style = TextStyle("EB Garamond", size_pt, size_pt * 1.2, colour, align)
    return Text(box, (Paragraph((Run("Alba"),), style),), "t")


def ground(*rows: float, columns: int = 1) -> Ground:
    values = tuple(v for v in rows for _ in range(columns))
    return read_ground(PageLayout(3, "bled", (FULL,)), {"p": Lightness(columns, values)})


@pytest.mark.parametrize(("light", "wanted"), [(1.0, 9.3), (0.0, 3.5)])
def test_black_ink_over_white_and_over_black(light: float, wanted: float) -> None:
    # Reckoned by hand: (0.787 + 0.05) / (0.04 + 0.05) and (0.269 + 0.05) / (0.04 + 0.05).
    (verdict,) = judge_items((word(Rect(20, 20, 80, 10)),), ground(light), SHEET)
    assert verdict.contrast == pytest.approx(wanted, abs=0.06)


def test_one_light_needs_small_type_to_move_and_lets_large_stay() -> None:
    small, large = judge_items(
        (word(Rect(20, 20, 80, 10)), word(Rect(20, 20, 80, 20), 34.0)), ground(0.05), SHEET
    )
    assert small.margin < 1.0 < large.margin


def test_each_paragraph_lies_on_its_own_ground() -> None:
    # A large title over a dark band and small words below it over a light one: both are read.
    def style(size_pt: float) -> TextStyle:
        return TextStyle("EB Garamond", size_pt, size_pt * 1.2, BLACK)

    words = (
        Paragraph((Run("Alba"),), style(36.0)),
        Paragraph((Run("Piedmont"),), style(9.0)),
        Paragraph((Run("October"),), style(9.0)),
    )
    # 43.2 and twice 10.8 pt of leading: two thirds of 24 mm are the title's.
    text = Text(Rect(20, 20, 80, 24), words, "t")
    large, small = list_marks((text,))
    assert (large.name, small.name) == ("“Alba”", "“Piedmont October”")
    assert [p.y for p in (*large.places, *small.places)] == pytest.approx([20, 36, 40])
    rows = [0.05] * 36 + [0.7] * 261
    verdicts = judge_items((text,), ground(*rows), SHEET)
    assert all(v.margin >= 1.0 for v in verdicts)
    upside_down = judge_items((text,), ground(*rows[::-1]), SHEET)
    assert all(v.margin >= 1.0 for v in upside_down)
    shifted = judge_items((text,), ground(*[0.7] * 35, *[0.05] * 262), SHEET)
    assert [v.margin >= 1.0 for v in shifted] == [True, False]


def test_the_worst_patch_decides() -> None:
    half = ground(0.9, 0.02)
    (both,) = judge_items((word(Rect(20, 140, 80, 20)),), half, SHEET)
    (dark,) = judge_items((word(Rect(20, 200, 80, 20)),), half, SHEET)
    assert both.contrast == pytest.approx(dark.contrast)


def test_only_the_ground_of_the_letters_counts() -> None:
    # The left third dark: a short word set left lies on it, set right it does not.
    columns = read_ground(PageLayout(3, "bled", (FULL,)), {"p": Lightness(3, (0.0, 0.9, 0.9) * 4)})
    box = Rect(10, 100, 190, 8)
    (left,) = judge_items((word(box),), columns, SHEET)
    (right,) = judge_items((word(box, align=Align.RIGHT),), columns, SHEET)
    assert left.margin < 1.0 < right.margin


def test_marks_are_found_where_they_are_placed() -> None:
    line = Shape((Contour((Point(0, 0), Point(10, 0))),), stroke=Stroke(BLACK, 0.25))
    inner = Drawing("map", Size(50, 50), 0.0, (word(Rect(5, 5, 20, 6)), line))
    text, rule = list_marks((Placed(inner, Affine.shift(100, 200)),))
    assert text.places[0].x == pytest.approx(105)
    assert text.places[0].y == pytest.approx(205)
    assert (text.needs, rule.needs) == (4.5, 3.0)
    assert all(100 <= p.center.x <= 110 and p.center.y == 200 for p in rule.places)


def leaf(*items: Item) -> InterleafLeaf:
    recto, verso = Drawing("r", TRIM, 3.0, items), Drawing("v", TRIM, 3.0, ())
    return InterleafLeaf(0, 0, 2, EndRole.WANTED, recto, verso)


@pytest.mark.parametrize(("light", "found"), [(0.05, 1), (0.6, 0)])
def test_what_is_hard_to_read_is_found(light: float, found: int) -> None:
    layout = BookLayout((PageLayout(3, "bled", (FULL,)),))
    findings = prove_leaves(
        (leaf(word(Rect(20, 20, 80, 10))),), layout, {"p": Lightness(1, (light,))}, SHEET
    )
    assert [(f.rule, f.where) for f in findings] == [(RULE, "leaf after page 2")] * found
    assert all("Alba" in f.message and "page 3" in f.message for f in findings)


def test_a_finding_names_other_pictures_that_would_do() -> None:
    layout = BookLayout((PageLayout(3, "bled", (FULL,)),))
    dark, words = {"p": Lightness(1, (0.05,))}, leaf(word(Rect(20, 20, 80, 10)))
    (found,) = prove_leaves(
        (words,), layout, dark, SHEET, lambda page: {3: ["a.jpg", "b.jpg"]}.get(page, [])
    )
    assert "a.jpg or b.jpg" in found.remedy and "opening_photo" in found.remedy
    (alone,) = prove_leaves((words,), layout, dark, SHEET, lambda _: [])
    assert "opening_photo" not in alone.remedy and "Crop" in alone.remedy


def draw(size: Size) -> Drawing:
    """A map with a name in the middle of its room and one in its lower corner."""
    middle = Rect(size.width / 2 - 10, size.height / 2, 20, 5)
    low = Rect(size.width - 25, size.height - 10, 20, 5)
    return Drawing("map", size, 0.0, (word(middle), word(low)))


WORDS = Rect(30, 30, 80, 20)
PAGE = Rect(20, 22, 168, 247)


def place(page: Ground, words: Rect = WORDS) -> tuple[Placed, float]:
    found = place_country(draw, page, SHEET, PAGE, words)
    return found.placed, found.least


def test_a_map_on_a_light_page_takes_all_the_room() -> None:
    placed, worth = place(ground(0.8))
    assert placed.drawing.size == Size(168, 269 - 56)
    assert placed.transform == Affine.shift(20, 56)
    assert worth > 1.0


def test_a_map_moves_to_the_light_part_and_keeps_off_the_title() -> None:
    # Light down to 200 mm, dark below: in the largest room the lower name would be lost.
    page = ground(*[0.7] * 20, *[0.01] * 10)
    placed, worth = place(page)
    verdicts = judge_items((placed,), page, SHEET)
    least = min(v.margin for v in verdicts)
    assert worth == pytest.approx(min(least, COMFORT)) and worth >= 1.0
    assert all(p.overlap(WORDS) is None for v in verdicts for p in v.mark.places)
    assert placed.clip is not None and placed.clip.bottom <= PAGE.bottom + 1e-6


def test_only_the_marks_of_a_map_need_light() -> None:
    # Two light bands where the two names of a map can lie; all the rest of the page is dark.
    page = ground(*[0.01] * 14, *[0.7] * 5, *[0.01] * 5, *[0.7] * 6)
    placed, worth = place(page)
    assert worth >= 1.0
    assert page.find_worst([placed.clip or PAGE], 0.0) < 0.05


def test_a_map_keeps_off_what_the_eye_goes_to() -> None:
    # All that is to be seen lies in the middle of the page's height.
    shares = tuple(1 / 8 if row in (3, 4) else 0.0 for row in range(8) for _ in range(4))
    look = Look((), Salience(4, 8, shares), (), 1.0, 0.0, 100, 0.0, 50.0)
    light = {"p": Lightness(1, (0.8,))}
    page = read_ground(PageLayout(3, "bled", (FULL,)), light, {"p": look})
    there = place(page)[0].clip
    elsewhere = place(ground(0.8))[0].clip
    assert there and elsewhere
    watched = [sum(page.watch(r) for r in names(room)) for room in (there, elsewhere)]
    assert watched[0] < watched[1]


def names(room: Rect) -> tuple[Rect, Rect]:
    return tuple(t.box.moved(room.x, room.y) for t in draw(room.size).items if isinstance(t, Text))


def test_a_map_over_darkness_everywhere_is_still_drawn() -> None:
    page = ground(0.01)
    placed, worth = place(page)
    assert worth < 1.0
    assert any(v.margin < 1.0 for v in judge_items((placed,), page, SHEET))


@given(st.lists(st.sampled_from([0.02, 0.15, 0.3, 0.8]), min_size=60, max_size=60))
@settings(deadline=None, max_examples=6)
def test_no_place_is_missed_where_a_map_could_be_read(patches: list[float]) -> None:
    light = {"p": Lightness(6, tuple(patches))}
    page = read_ground(PageLayout(3, "bled", (FULL,)), light)
    placed, least = place(page)
    assert least == pytest.approx(
        min([COMFORT, *(v.margin for v in judge_items((placed,), page, SHEET))])
    )
    if least < 1.0:
        for scale in SCALES:
            drawing = draw(Size(round(168 * scale, 2), round(213 * scale, 2)))
            wide, high = 168 - drawing.size.width, 247 - drawing.size.height
            for i in range(0, 17, 2):
                for j in range(0, 17, 2):
                    moved = Placed(drawing, Affine.shift(20 + wide * i / 16, 22 + high * j / 16))
                    verdicts = judge_items((moved,), page, SHEET)
                    places = [p for v in verdicts for p in v.mark.places]
                    if not any(p.overlap(WORDS.grown(AIR)) for p in places):
                        assert min(v.margin for v in verdicts) <= least + 1e-6
