"""Print pictures at the size of a stamp: small, upright as they were, in sRGB, and nothing else."""

from pathlib import Path

from PIL import Image

from wayfold.photos.miniature import make_miniature


def test_a_miniature_keeps_shape_and_colour_and_loses_the_rest(tmp_path: Path) -> None:
    source, target = tmp_path / "print.jpg", tmp_path / "small.jpg"
    exif = Image.Exif()
    exif[0x010F] = "A maker"
    Image.new("RGB", (1600, 900), (200, 80, 40)).save(source, quality=95, exif=exif)
    make_miniature(source, 320, target)
    with Image.open(target) as small:
        assert small.size == (320, 180)
        assert not small.getexif()
        assert "icc_profile" not in small.info
        near = zip(small.convert("RGB").getpixel((160, 90)), (200, 80, 40), strict=True)
        assert all(abs(a - b) <= 3 for a, b in near)


def test_nothing_is_enlarged(tmp_path: Path) -> None:
    source, target = tmp_path / "print.jpg", tmp_path / "small.jpg"
    Image.new("RGB", (100, 60), "white").save(source)
    make_miniature(source, 320, target)
    with Image.open(target) as small:
        assert small.size == (100, 60)
