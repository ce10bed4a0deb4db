"""Print derivatives: exactly the crop, right pixels, right colour, nothing else in the file."""

from __future__ import annotations

import errno
import io
import os
import shutil
from pathlib import Path
from typing import Any

import exifread
import numpy as np
import pi_heif
import pytest
from PIL import Image, ImageCms

from wayfold.base.errors import UserError
from wayfold.base.findings import Severity
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos.derive import DerivativeJob, choose_size, make_derivatives, make_preview
from wayfold.photos.make_profile import make_profile
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.profiles import name_profile

WHOLE = Rect(0, 0, 1, 1)


def derive(photo: Photo, target: Path, crop: Rect = WHOLE, **options: Any) -> Image.Image:
    job = DerivativeJob(
        photo, crop, options.get("width", 50.0), options.get("height", 50.0),
        options.get("ppi", 300), target,
    )  # fmt: skip
    assert make_derivatives([job], NoProgress(), workers=0) == ()
    return Image.open(target)


def pixels(image: Image.Image) -> np.ndarray[Any, Any]:
    return np.asarray(image.convert("RGB")).astype(int)


def flat(colour: Any, mode: str = "RGB", size: tuple[int, int] = (64, 48)) -> Image.Image:
    return Image.new(mode, size, colour)


# --- how many pixels -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "height", "ppi", "wanted"),
    [  # Pixel sizes at placement: page sizes in pixels as printed in trade tables (ISO 216 at ppi)
        (210.0, 297.0, 300, (2480, 3508)),
        (210.0, 297.0, 240, (1984, 2806)),
        (216.0, 303.0, 300, (2551, 3579)),
        (426.0, 303.0, 300, (5031, 3579)),
    ],
)
def test_pixels_at_placement(
    width: float, height: float, ppi: float, wanted: tuple[int, int]
) -> None:
    photo = Photo("p", "c", "/p.jpg", SizePx(8256, 5504))
    size = choose_size(photo, WHOLE, width, height, ppi)
    assert (size.width_px, size.height_px) == wanted


def test_never_enlarged(folder: Path, paint: Any, read: Any, tmp_path: Path) -> None:
    paint(240, 160).save(folder / "a.jpg")
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg", width=300, height=200)
    assert made.size == (240, 160)
    assert made.info["dpi"][0] == pytest.approx(240 / (300 / 25.4), abs=0.6)
    part = derive(photo, tmp_path / "b.jpg", Rect(0.25, 0.25, 0.5, 0.5), width=300, height=200)
    assert part.size == (120, 80)


def test_exact_pixels_and_resolution(folder: Path, paint: Any, read: Any, tmp_path: Path) -> None:
    paint(1500, 1000).save(folder / "a.jpg")
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "deep" / "er" / "a.jpg", width=76.2, height=50.8)
    assert made.size == (900, 600)
    assert made.info["dpi"] == (300, 300)


@pytest.mark.parametrize("crop", [Rect(0, 0, 1e-9, 1e-9), Rect(0.999, 0.999, 0.001, 0.001),
                                  Rect(-0.01, -0.01, 1.02, 1.02)])  # fmt: skip
def test_odd_crops_stay_inside(
    folder: Path, paint: Any, read: Any, tmp_path: Path, crop: Rect
) -> None:
    paint(40, 30).save(folder / "a.jpg")
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg", crop)
    assert 1 <= made.width <= 40
    assert 1 <= made.height <= 30


# --- what is in the file ---------------------------------------------------------------------


def markers(data: bytes) -> list[str]:
    """List the segments before the pixels (ISO/IEC 10918-1, Annex B)."""
    found, place = [], 2
    while data[place + 1] != 0xDA:
        found.append(f"{data[place + 1]:02X}")
        place += 2 + int.from_bytes(data[place + 2 : place + 4], "big")
    return found


def test_file_holds_pixels_and_profile_and_nothing_else(
    folder: Path, pillow_images: Path, read: Any, tmp_path: Path
) -> None:
    # A photograph with EXIF, XMP, Photoshop data, a thumbnail and a profile inside.
    shutil.copy(pillow_images / "xmp_test.jpg", folder / "a.jpg")
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg")
    data = (tmp_path / "a.jpg").read_bytes()
    assert set(markers(data)) == {"E0", "E2", "DB", "C0", "C4"}  # JFIF, ICC, tables, frame
    assert exifread.process_file(io.BytesIO(data)) == {}
    assert not {"exif", "xmp", "photoshop", "comment"} & made.info.keys()
    assert b"Canon" not in data
    assert made.layer == [(1, 1, 1, 0), (2, 1, 1, 1), (3, 1, 1, 1)]  # type: ignore[attr-defined]


def test_quality_is_92(folder: Path, paint: Any, read: Any, tmp_path: Path) -> None:
    # Reference: the quantisation tables that Pillow's JPEG encoder uses for quality 92.
    paint().save(folder / "a.png")
    (photo,) = read(folder).photos
    reference = io.BytesIO()
    paint().save(reference, "JPEG", quality=92)
    wanted = Image.open(reference).quantization  # type: ignore[attr-defined]
    assert derive(photo, tmp_path / "a.jpg").quantization == wanted  # type: ignore[attr-defined]


def test_same_job_same_bytes(folder: Path, paint: Any, read: Any, tmp_path: Path) -> None:
    paint(900, 600).save(folder / "a.jpg")
    paint(900, 600).save(folder / "b.png")
    photos = read(folder).photos
    made = []
    for run, workers in enumerate((0, 1, 2)):
        jobs = [
            DerivativeJob(p, Rect(0.1, 0.1, 0.7, 0.7), 40, 30, 300, tmp_path / f"{run}-{p.id}")
            for p in photos
        ]
        assert make_derivatives(jobs, NoProgress(), workers) == ()
        made.append([job.target.read_bytes() for job in jobs])
    assert made[0] == made[1] == made[2]


# --- colour ----------------------------------------------------------------------------------

PATCHES = [(200, 40, 40), (40, 170, 60), (50, 60, 190), (128, 128, 128), (240, 230, 60), (9, 9, 9)]


@pytest.mark.parametrize("name", ["sRGB", "Display P3", "Adobe RGB", "ProPhoto RGB"])
@pytest.mark.parametrize("colour", PATCHES[:4])
def test_rgb_spaces_are_kept_and_converted_right_for_the_screen(
    folder: Path, read: Any, tmp_path: Path, name: str, colour: tuple[int, int, int]
) -> None:
    # Reference for the conversion: LittleCMS through Pillow's ImageCms, relative + black point.
    profile = make_profile(name)
    flat(colour).save(folder / "a.png", icc_profile=profile)
    (photo,) = read(folder).photos
    assert photo.profile == name
    made = derive(photo, tmp_path / "a.jpg")
    assert name_profile(made.info["icc_profile"]) == name
    assert made.info["icc_profile"] == profile
    assert np.abs(pixels(made) - colour).max() <= 2

    assert make_preview(photo, WHOLE, 64, tmp_path / "b.jpg") is None
    reference = ImageCms.profileToProfile(
        flat(colour), ImageCms.ImageCmsProfile(io.BytesIO(profile)),
        ImageCms.createProfile("sRGB"), ImageCms.Intent.RELATIVE_COLORIMETRIC,
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )  # fmt: skip
    shown = Image.open(tmp_path / "b.jpg")
    assert "icc_profile" not in shown.info
    assert np.abs(pixels(shown) - pixels(reference)).max() <= 3  # type: ignore[arg-type]


def test_display_p3_against_published_numbers(folder: Path, read: Any, tmp_path: Path) -> None:
    # CSS Color Module Level 4, conversions of Display P3: color(display-p3 0.5 0.5 0.5) is
    # rgb(128 128 128); sRGB red is color(display-p3 0.9175 0.2003 0.1386), so back again.
    for number, (p3, srgb) in enumerate([((128, 128, 128), (128, 128, 128)),
                                         ((234, 51, 35), (255, 0, 0))]):  # fmt: skip
        flat(p3).save(folder / f"{number}.png", icc_profile=make_profile("Display P3"))
        photo = read(folder).photos[number]
        assert make_preview(photo, WHOLE, 64, tmp_path / "b.jpg") is None
        assert np.abs(pixels(Image.open(tmp_path / "b.jpg")) - srgb).max() <= 3


def test_picture_without_profile_is_srgb(folder: Path, read: Any, tmp_path: Path) -> None:
    flat((200, 40, 40)).save(folder / "a.png")
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg")
    assert made.info["icc_profile"] == make_profile("sRGB")
    assert np.abs(pixels(made) - (200, 40, 40)).max() <= 2


def test_space_known_by_name_only_is_written_out(
    folder: Path, heif_images: Path, read_one: Any, read: Any, tmp_path: Path
) -> None:
    flat((200, 40, 40)).save(folder / "a.png")
    (photo,) = read(folder).photos
    marked = Photo(photo.id, photo.content, photo.path, photo.size, 1, "PNG", profile="Adobe RGB")
    assert derive(marked, tmp_path / "a.jpg").info["icc_profile"] == make_profile("Adobe RGB")
    telephone = read_one(heif_images / "heif_other/pug.heic")
    kept = derive(telephone, tmp_path / "b.jpg", width=20, height=15)
    assert name_profile(kept.info["icc_profile"]) == "Display P3"


def test_profile_of_another_maker_is_kept_byte_for_byte(
    pillow_images: Path, heif_images: Path, read_one: Any, tmp_path: Path
) -> None:
    # A telephone's Display P3, and a space that has no common name here (ColorMatch RGB).
    telephone = heif_images / "heif_other/pug.heic"
    made = derive(read_one(telephone), tmp_path / "a.jpg", width=20, height=15)
    assert made.info["icc_profile"] == pi_heif.open_heif(telephone).info["icc_profile"]
    other = pillow_images / "xmp_tags_orientation.png"
    made = derive(read_one(other), tmp_path / "b.jpg")
    assert made.info["icc_profile"] == Image.open(other).info["icc_profile"]


def test_cmyk_becomes_srgb(folder: Path, pillow_images: Path, read: Any, tmp_path: Path) -> None:
    # The Pillow project's sample of one picture in both: pil_sample_cmyk.jpg, pil_sample_rgb.jpg.
    for name in ("pil_sample_cmyk.jpg", "pil_sample_rgb.jpg"):
        shutil.copy(pillow_images / name, folder)
    cmyk, rgb = read(folder).photos
    made = derive(cmyk, tmp_path / "a.jpg")
    assert made.mode == "RGB"
    assert made.info["icc_profile"] == make_profile("sRGB")
    apart = np.abs(pixels(made) - pixels(Image.open(rgb.path))).mean()
    assert apart < 25  # inks differ, an inverted picture would be over 100 away


@pytest.mark.parametrize(
    ("name", "mode", "colour", "seen"),
    [
        ("grey.jpg", "L", 90, (90, 90, 90)),
        ("grey.png", "L", 90, (90, 90, 90)),
        ("grey-alpha.png", "LA", (90, 255), (90, 90, 90)),
        ("deep-grey.png", "I;16", 90 * 257, (90, 90, 90)),
        ("deep-grey.tif", "I;16", 90 * 257, (90, 90, 90)),
        ("palette.png", "P", 1, (10, 20, 200)),
        ("bits.png", "1", 1, (255, 255, 255)),
        ("bits.tif", "1", 1, (255, 255, 255)),
        ("alpha.png", "RGBA", (200, 0, 0, 0), (255, 255, 255)),
        ("half.png", "RGBA", (200, 0, 0, 128), (227, 127, 127)),
        ("alpha.webp", "RGBA", (200, 0, 0, 0), (255, 255, 255)),
        ("alpha.tif", "RGBA", (200, 0, 0, 128), (227, 127, 127)),
        ("colour.tif", "RGB", (200, 40, 40), (200, 40, 40)),
        ("colour.webp", "RGB", (200, 40, 40), (200, 40, 40)),
    ],
)
def test_every_kind_of_pixel(
    folder: Path, read: Any, tmp_path: Path, name: str, mode: str, colour: Any, seen: Any
) -> None:
    image = flat(colour, mode)
    if mode == "P":
        image.putpalette([0, 0, 0, 10, 20, 200])
    options: dict[str, Any] = {"lossless": True} if name.endswith("webp") else {}
    image.save(folder / name, **options)
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg")
    assert made.mode == "RGB"
    assert np.abs(pixels(made) - seen).max() <= 3


def test_sixteen_bit_colour(pillow_images: Path, folder: Path, read: Any, tmp_path: Path) -> None:
    # The Pillow project's 16-bit samples beside their 8-bit targets.
    for name in ("tiff_16bit_RGB.tiff", "tiff_strip_planar_16bit_RGB.tiff"):
        shutil.copy(pillow_images / name, folder)
    wanted = pixels(Image.open(pillow_images / "tiff_16bit_RGB_target.png"))
    for photo in read(folder).photos:
        made = pixels(derive(photo, tmp_path / "a.jpg"))
        assert np.abs(made - wanted).mean() < 4


def test_first_frame_of_several(
    folder: Path, pillow_images: Path, read: Any, tmp_path: Path
) -> None:
    frames = [flat((200, 40, 40)), flat((40, 200, 40))]
    frames[0].save(folder / "a.webp", save_all=True, append_images=frames[1:], lossless=True)
    frames[0].save(folder / "b.png", save_all=True, append_images=frames[1:])
    frames[0].save(folder / "c.tif", save_all=True, append_images=frames[1:])
    frames[0].save(folder / "d.mpo", save_all=True, append_images=frames[1:])
    (folder / "d.mpo").rename(folder / "d.jpg")
    photos = read(folder).photos
    assert len(photos) == 4
    for photo in photos:
        made = derive(photo, tmp_path / "a.jpg")
        assert made.size == (64, 48)
        assert np.abs(pixels(made) - (200, 40, 40)).max() <= 4


def test_lab_tiff(pillow_images: Path, folder: Path, read: Any, tmp_path: Path) -> None:
    # Pillow's Lab samples: patches of red and green.
    for name in ("lab-red.tif", "lab-green.tif"):
        shutil.copy(pillow_images / name, folder)
    green, red = read(folder).photos
    r, g, _ = pixels(derive(red, tmp_path / "a.jpg")).mean(axis=(0, 1))
    assert r > g + 40
    r, g, _ = pixels(derive(green, tmp_path / "a.jpg")).mean(axis=(0, 1))
    assert g > r + 40


@pytest.mark.parametrize("space", ["CMYK", "GRAY"])
def test_profile_that_does_not_fit_the_pixels_is_left_out(
    folder: Path, read: Any, tmp_path: Path, space: str
) -> None:
    wrong = bytearray(make_profile("Adobe RGB"))
    wrong[16:20] = space.encode()
    flat((200, 40, 40)).save(folder / "a.png", icc_profile=bytes(wrong))
    flat(90, "L").save(folder / "b.jpg", icc_profile=make_profile("Adobe RGB"))
    for photo in read(folder).photos:
        made = derive(photo, tmp_path / "a.jpg")
        assert made.info["icc_profile"] == make_profile("sRGB")


@pytest.mark.parametrize("length", [132, 200, 300])
def test_broken_profile_is_replaced(folder: Path, read: Any, tmp_path: Path, length: int) -> None:
    broken = make_profile("Adobe RGB")[:length].ljust(600, b"?")
    flat((200, 40, 40)).save(folder / "a.jpg", icc_profile=broken)
    (photo,) = read(folder).photos
    made = derive(photo, tmp_path / "a.jpg")
    # Where its name could still be read, by the space it names.
    wanted = "Adobe RGB" if photo.profile == "Adobe RGB" else "sRGB"
    assert made.info["icc_profile"] == make_profile(wanted)
    assert make_preview(photo, WHOLE, 64, tmp_path / "b.jpg") is None


# --- sharpening ------------------------------------------------------------------------------


def test_sharpening_steepens_edges_and_leaves_surfaces(
    folder: Path, read: Any, tmp_path: Path
) -> None:
    soft = np.interp(np.arange(1200), [590, 610], [90, 160])
    image = Image.fromarray(np.repeat(soft[None, :], 400, 0).astype("uint8")).convert("RGB")
    image.save(folder / "a.png")
    (photo,) = read(folder).photos
    made = pixels(derive(photo, tmp_path / "a.jpg", width=50.8, height=16.9))[100, :, 0]
    plain = np.asarray(image.resize((600, 200), Image.Resampling.LANCZOS)).astype(int)[100, :, 0]
    assert np.diff(made).max() > np.diff(plain).max()
    assert 2 <= (plain - made).max() <= 28  # a halo, and not more than one
    assert np.abs(made - plain)[:270].max() <= 1
    assert np.abs(made - plain)[330:].max() <= 1
    assert abs(made.mean() - plain.mean()) < 1


# --- what goes wrong -------------------------------------------------------------------------


def test_file_that_fails_is_a_finding_and_the_rest_is_made(
    folder: Path, paint: Any, read: Any, tmp_path: Path
) -> None:
    for name in "abcd":
        paint(seed=ord(name)).save(folder / f"{name}.jpg")
    photos = read(folder).photos
    (folder / "a.jpg").unlink()
    (folder / "b.jpg").write_bytes((folder / "b.jpg").read_bytes()[:3000])
    paint(100, 100).save(folder / "c.jpg")
    jobs = [DerivativeJob(p, WHOLE, 10, 10, 300, tmp_path / "out" / p.id) for p in photos]
    findings = make_derivatives(jobs, NoProgress())
    assert [(Path(f.where).name, f.rule) for f in findings] == [
        ("a.jpg", "photos.vanished"), ("b.jpg", "photos.truncated"), ("c.jpg", "photos.changed"),
    ]  # fmt: skip
    assert {f.severity for f in findings} == {Severity.BLOCK}
    assert [p.name for p in (tmp_path / "out").iterdir()] == [photos[3].id]
    gone = make_preview(photos[0], WHOLE, 50, tmp_path / "p.jpg")
    assert gone is not None
    assert gone.rule == "photos.vanished"


def test_picture_edited_in_place_is_not_shown_as_it_was(
    folder: Path, read: Any, tmp_path: Path
) -> None:
    for colour in ((200, 40, 40), (40, 40, 200)):
        flat(colour).save(folder / "a.png")
        (photo,) = read(folder).photos
        assert np.abs(pixels(derive(photo, tmp_path / "a.jpg")) - colour).max() <= 2


def test_read_only_folder(open_folder: Path, paint: Any, read: Any, lose_rights: Any) -> None:
    paint().save(open_folder / "a.jpg")
    (photo,) = read(open_folder).photos
    closed = open_folder / "closed"
    closed.mkdir(mode=0o555)
    with lose_rights(), pytest.raises(UserError) as caught:
        derive(photo, closed / "a.jpg")
    assert "Allow writing" in caught.value.remedy
    assert caught.value.where.endswith("a.jpg")


@pytest.mark.parametrize("workers", [0, 2])
def test_target_folder_that_is_a_file(
    folder: Path, paint: Any, read: Any, tmp_path: Path, workers: int
) -> None:
    # The error comes back from a worker process whole.
    paint().save(folder / "a.jpg")
    (photo,) = read(folder).photos
    (tmp_path / "file").write_text("x")
    job = DerivativeJob(photo, WHOLE, 10, 10, 300, tmp_path / "file" / "a.jpg")
    with pytest.raises(UserError) as caught:
        make_derivatives([job], NoProgress(), workers)
    assert caught.value.remedy


def test_full_disk_leaves_nothing_half_done(
    folder: Path, paint: Any, read: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paint().save(folder / "a.jpg")
    (photo,) = read(folder).photos
    target = tmp_path / "out" / "a.jpg"
    derive(photo, target)
    before = target.read_bytes()

    def fill(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", fill)
    with pytest.raises(UserError) as caught:
        derive(photo, target, Rect(0, 0, 0.5, 0.5))
    assert "full" in caught.value.what
    assert "Make room" in caught.value.remedy
    assert [p.name for p in target.parent.iterdir()] == ["a.jpg"]
    assert target.read_bytes() == before
