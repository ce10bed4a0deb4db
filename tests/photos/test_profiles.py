"""ICC profiles: their names, and those made here against published numbers."""

from __future__ import annotations

import io
import struct
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms

from wayfold.photos.make_profile import SPACES, colorants, make_profile
from wayfold.photos.profiles import name_profile, read_description, read_space

# XYZ of red, green, blue relative to D50 (Bradford-adapted).
PUBLISHED = {
    # IEC 61966-2-1 primaries as tabled in B. Lindbloom, "RGB/XYZ Matrices", D50.
    "sRGB": ((0.4360747, 0.2225045, 0.0139322), (0.3850649, 0.7168786, 0.0971045),
             (0.1430804, 0.0606169, 0.7141733)),
    # Adobe RGB (1998) Color Image Encoding, version 2005-05, 4.3.6.1 (the ICC profile's colorants).
    "Adobe RGB": ((0.60974, 0.31111, 0.01947), (0.20528, 0.62567, 0.06087),
                  (0.14919, 0.06322, 0.74457)),
    # Lindbloom, same table; ROMM RGB of ISO 22028-2.
    "ProPhoto RGB": ((0.7976749, 0.2880402, 0.0), (0.1351917, 0.7118741, 0.0),
                     (0.0313534, 0.0000857, 0.8252100)),
    # The Display P3 profile that telephones put into their pictures (read below from such a file).
    "Display P3": ((0.51512, 0.24120, -0.00105), (0.29198, 0.69225, 0.04189),
                   (0.15710, 0.06657, 0.78407)),
}  # fmt: skip


def open_profile(data: bytes) -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(io.BytesIO(data))


@pytest.mark.parametrize("name", SPACES)
def test_made_profiles_have_the_published_colorants(name: str) -> None:
    for mine, published in zip(colorants(SPACES[name]), PUBLISHED[name], strict=True):
        assert mine == pytest.approx(published, abs=5e-4)


@pytest.mark.parametrize("name", SPACES)
def test_made_profiles_are_read_by_littlecms(name: str) -> None:
    profile = open_profile(make_profile(name)).profile
    assert profile.xcolor_space.strip() == "RGB"
    assert profile.profile_description == name
    assert profile.is_matrix_shaper
    assert profile.version == pytest.approx(2.1, abs=0.01)
    assert profile.red_colorant is not None
    assert profile.red_colorant[0] == pytest.approx(PUBLISHED[name][0], abs=5e-4)
    assert len(make_profile(name)) < 3000


@pytest.mark.parametrize("name", SPACES)
def test_made_profiles_are_called_by_their_name(name: str) -> None:
    assert name_profile(make_profile(name)) == name
    assert read_space(make_profile(name)) == "RGB"


def test_made_srgb_is_the_srgb_of_littlecms() -> None:
    # Reference: LittleCMS's built-in sRGB; every grey and a lattice of colours, within one level.
    values = [
        (r, g, b) for r in range(0, 256, 51) for g in range(0, 256, 51) for b in range(0, 256, 51)
    ]
    values += [(v, v, v) for v in range(256)]
    image = Image.new("RGB", (len(values), 1))
    image.putdata(values)
    same = ImageCms.profileToProfile(
        image, open_profile(make_profile("sRGB")), ImageCms.createProfile("sRGB")
    )
    assert same is not None
    apart = np.abs(np.asarray(same).astype(int) - np.asarray(image).astype(int))
    assert apart.max() <= 1


def test_names_of_profiles_in_other_peoples_files(
    pillow_images: Path, heif_images: Path, read_one: Any
) -> None:
    expected = {
        heif_images / "heif_other/pug.heic": "Display P3",  # version 4, 'mluc'
        heif_images / "heif_special/aux_YCbCr.heic": "Display P3",  # a maker's own wording
        pillow_images / "frame_size.mpo": "Display P3",
        pillow_images / "xmp_test.jpg": "Adobe RGB",  # version 2, 'desc'
        pillow_images / "xmp_tags_orientation.png": "ColorMatch RGB",
        pillow_images / "hopper.jpg": "sRGB",  # none at all
    }
    for path, name in expected.items():
        assert read_one(path).profile == name


def describe_v2(text: str) -> bytes:
    tag = b"desc\0\0\0\0" + struct.pack(">I", len(text) + 1) + text.encode() + b"\0"
    head = bytearray(128)
    head[16:20], head[36:40] = b"RGB ", b"acsp"
    return bytes(head) + struct.pack(">I4sII", 1, b"desc", 144, len(tag)) + tag


def describe_v4(**texts: str) -> bytes:
    records, strings = b"", b""
    start = 16 + 12 * len(texts)
    for language, text in texts.items():
        data = text.encode("utf-16-be")
        records += language.encode() + b"XX" + struct.pack(">II", len(data), start + len(strings))
        strings += data
    tag = b"mluc\0\0\0\0" + struct.pack(">II", len(texts), 12) + records + strings
    head = bytearray(128)
    head[16:20], head[36:40] = b"RGB ", b"acsp"
    return bytes(head) + struct.pack(">I4sII", 1, b"desc", 144, len(tag)) + tag


@pytest.mark.parametrize(
    ("description", "name"),
    [  # Descriptions of profiles in use, from memory
        ("sRGB IEC61966-2.1", "sRGB"), ("sRGB", "sRGB"), ("sRGB built-in", "sRGB"), ("c2", "sRGB"),
        ("Nikon sRGB 4.0.0.3002", "sRGB"), ("Display P3", "Display P3"), ("Image P3", "Display P3"),
        ("Adobe RGB (1998)", "Adobe RGB"), ("Compatible with Adobe RGB (1998)", "Adobe RGB"),
        ("ProPhoto RGB", "ProPhoto RGB"), ("ROMM RGB: ISO 22028-2:2013", "ProPhoto RGB"),
        ("sRGB linear", "sRGB linear"), ("sRGB-elle-V2-g10.icc", "sRGB-elle-V2-g10.icc"),
        ("EPSON  Scanner", "EPSON Scanner"), ("", "unnamed RGB profile"),
    ],
)  # fmt: skip
def test_normal_names(description: str, name: str) -> None:
    assert name_profile(describe_v2(description)) == name
    assert name_profile(describe_v4(en=description)) == name


def test_english_is_preferred() -> None:
    assert read_description(describe_v4(de="Anzeige P3", en="Display P3")) == "Display P3"
    assert read_description(describe_v4(fr="Écran 日本")) == "Écran 日本"


@pytest.mark.parametrize("length", [0, 3, 100, 131, 133, 140, 145, 150])
def test_cut_profile_has_no_description_and_does_no_harm(length: int) -> None:
    assert isinstance(read_description(make_profile("sRGB")[:length]), str)
    assert isinstance(read_description(describe_v4(en="Display P3")[:length]), str)


def test_camera_mark_of_adobe_rgb_without_a_profile(folder: Path, paint: Any, read: Any) -> None:
    # DCF 2.0 (JEITA CP-3461): interoperability index R03 marks an option file in Adobe RGB.
    for index in ("R98", "R03"):
        picture = paint(seed=ord(index[1]))
        exif = picture.getexif()
        exif.get_ifd(0x8769)[0xA005] = {1: index}
        picture.save(folder / f"{index}.jpg", exif=exif)
    profiles = {Path(p.path).stem: p.profile for p in read(folder).photos}
    assert profiles == {"R98": "sRGB", "R03": "Adobe RGB"}
