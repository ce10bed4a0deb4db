"""One picture with pages to itself."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from wayfold.base.geometry import Rect, Size
from wayfold.book.arranging import Arranging
from wayfold.layout.model import PictureFrame, TextFrame
from wayfold.story.model import BlockKind

TRIMS = [Size(210.0, 297.0), Size(148.0, 210.0), Size(215.9, 279.4), Size(210.0, 210.0)]
TRIMS += [Size(297.0, 210.0)]
LONG = "Fog coming in from the bay, quicker than we could walk along the wall of the old harbour"


@given(st.floats(0.3, 3.5), st.sampled_from(TRIMS), st.sampled_from([2, 3]), st.booleans())
@settings(deadline=None)
def test_bordered_picture_is_whole_and_within_margins(
    make_matter, lay_by, aspect, trim, page, captioned
):
    captions = {0: LONG} if captioned else {}
    matter = make_matter([aspect], (page,), BlockKind.SINGLE, captions, trim)
    area = matter.grid.picture_area(page == 3)
    for name in ("framed", "small", "quiet"):
        (laid,) = lay_by(matter, name).pages
        picture = laid.frames[0]
        real = matter.aspect("p0")
        assert picture.crop == Rect(0.0, 0.0, 1.0, 1.0)
        assert picture.box.width / picture.box.height == pytest.approx(real, rel=1e-9)
        assert all(area.contains(f.box) for f in laid.frames if isinstance(f, PictureFrame))
        texts = [f for f in laid.frames if isinstance(f, TextFrame)]
        assert len(texts) == captioned
        assert all(f.box.overlap(picture.box) is None for f in texts)
        assert all(f.box.bottom <= area.bottom + 1e-6 for f in texts)
        assert all(f.box.x == pytest.approx(picture.box.x) for f in texts)


@pytest.mark.parametrize("trim", TRIMS)
@pytest.mark.parametrize("aspect", [0.667, 0.75, 1.0, 1.5])
def test_versos_mirror_rectos(make_matter, lay_by, trim, aspect):
    verso, recto = (
        lay_by(make_matter([aspect], (n,), BlockKind.SINGLE, trim=trim), "framed")
        .pages[0]
        .frames[0]
        .box
        for n in (2, 3)
    )
    assert verso.x == pytest.approx(trim.width - recto.right)
    assert (verso.y, verso.size) == (recto.y, recto.size)


def test_optical_centre_lies_above_the_middle(make_matter, lay_by):
    box = lay_by(make_matter([1.5], kind=BlockKind.SINGLE), "framed").pages[0].frames[0].box
    assert 0.44 * 297 < box.center.y < 0.48 * 297


@given(st.floats(0.5, 1.0))
@settings(deadline=None)
def test_bled_picture_covers_page_and_bleed(make_matter, lay_by, aspect):
    matter = make_matter([aspect], (3,), BlockKind.SINGLE)
    laid = lay_by(matter, "bled")
    assume(laid is not None)
    (page,) = laid.pages
    (frame,) = page.frames
    assert frame.box == Rect(-3.0, -3.0, 216.0, 303.0)
    assert not page.folio
    assert 1 - frame.crop.area <= Arranging().most_crop + 1e-9
    shown = frame.crop.width / frame.crop.height * matter.aspect("p0")
    assert shown == pytest.approx(216 / 303)


def test_wide_pictures_do_not_bleed_on_upright_pages(make_matter, lay_by):
    # 1 - (216/303) / 1.5 = 0.525 would go: more than half of the picture.
    assert lay_by(make_matter([1.5], (3,), BlockKind.SINGLE), "bled") is None
    assert lay_by(make_matter([2 / 3], (3,), BlockKind.SINGLE), "bled")
    assert lay_by(make_matter([3 / 4], (3,), BlockKind.SINGLE), "bled")


@given(st.floats(1.2, 4.5), st.sampled_from(TRIMS), st.booleans())
@settings(deadline=None)
def test_picture_across_the_fold(make_matter, lay_by, aspect, trim, captioned):
    matter = make_matter(
        [aspect], (4, 5), BlockKind.HERO, {0: "A caption"} if captioned else {}, trim
    )
    laid = lay_by(matter, "across")
    assume(laid is not None)
    left, right = laid.pages
    one, other = left.frames[0], right.frames[0]
    # One picture: the facing page sees the same box from its own corner.
    assert other.box == one.box.moved(-trim.width, 0.0)
    assert one.crop == other.crop
    assert one.clip == other.clip == Rect(-3.0, -3.0, trim.width + 6.0, trim.height + 6.0)
    # It bleeds off at both fore-edges.
    assert one.box.x == pytest.approx(-3.0)
    assert other.box.right == pytest.approx(trim.width + 3.0)
    assert 1 - one.crop.area <= Arranging().most_crop + 1e-9
    shown = one.crop.width / one.crop.height * matter.aspect("p0")
    assert one.box.width / one.box.height == pytest.approx(shown)
    # Head and foot either bleed or leave a band that is clearly white.
    assert one.box.y == pytest.approx(-3.0) or one.box.y >= 10.0
    foot = trim.height - one.box.bottom
    assert foot == pytest.approx(-3.0) or foot >= 10.0
    captions = [f for f in right.frames if isinstance(f, TextFrame)]
    assert len(captions) == captioned
    assert all(c.box.y > one.box.bottom and c.box.bottom < trim.height - 8 for c in captions)


@pytest.mark.parametrize("numbers", [(3, 4), (4,), (4, 6)])
def test_only_facing_pages_carry_a_picture_across(make_matter, lay_by, numbers):
    assert lay_by(make_matter([1.5], numbers, BlockKind.HERO), "across") is None


@pytest.mark.parametrize("aspect", [0.667, 1.0])
def test_upright_and_square_pictures_do_not_cross(make_matter, lay_by, aspect):
    assert lay_by(make_matter([aspect], (4, 5), BlockKind.HERO), "across") is None
