"""What the cameras' files carry, read back with libraries that did not write them.

libvips (with libexif) reads the EXIF, ICC, XMP and IPTC of the JPEG files; Pillow reads PNG, TIFF
and WebP. Meaning of the fields: CIPA DC-008 (Exif), ISO 16684-1 (XMP), IPTC-IIM 4.2.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
import pyvips
from PIL import ExifTags, Image, ImageOps, UnidentifiedImageError

from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.demo.copies import Copies, name_copies, write_copies
from wayfold.demo.model import CameraBody, Gathered, Shot
from wayfold.demo.scenario import read_journey


@pytest.fixture(scope="module")
def written(
    tmp_path_factory: pytest.TempPathFactory, stand_ins: SimpleNamespace
) -> tuple[Path, Gathered, Copies]:
    folder = tmp_path_factory.mktemp("demo")
    gathered = stand_ins.gather(folder / "sources")
    return folder / "book", gathered, write_copies(folder / "book", gathered, NoProgress())


def shots_of(gathered: Gathered) -> Iterator[Shot]:
    return (shot for chapter in gathered.journey.chapters for shot in chapter.shots)


def vips_text(image: pyvips.Image, field: str) -> str:
    """libexif gives "value (value, ASCII, …)"; the value alone is wanted."""
    return str(image.get(field)).split(" (")[0].strip()


def told_by(shot: Shot, body: CameraBody) -> datetime:
    """What a camera's own clock said, which may be wrong."""
    return shot.taken.replace(tzinfo=None) + timedelta(seconds=body.clock_error_s)


def test_every_picture_has_its_file(written: tuple[Path, Gathered, Copies]) -> None:
    target, gathered, copies = written
    for shot in shots_of(gathered):
        assert (target / copies.paths[shot.key]).is_file()
    assert len(set(copies.paths.values())) == len(copies.paths)


def test_times_and_cameras_are_written(written: tuple[Path, Gathered, Copies]) -> None:
    target, gathered, copies = written
    for shot in shots_of(gathered):
        if shot.file_format != "JPEG":
            continue
        image = pyvips.Image.new_from_file(str(target / copies.paths[shot.key]))
        stamp = vips_text(image, "exif-ifd2-DateTimeOriginal")
        body = gathered.journey.body(shot.body)
        assert datetime.strptime(stamp, "%Y:%m:%d %H:%M:%S") == told_by(shot, body)
        assert vips_text(image, "exif-ifd0-Make") == body.make
        assert vips_text(image, "exif-ifd0-Model") == body.model
        has_offset = "exif-ifd2-OffsetTimeOriginal" in image.get_fields()
        assert has_offset == body.records_offset
        if has_offset:
            wanted = "+02:00" if shot.taken.utcoffset() == timedelta(hours=2) else "+01:00"
            assert vips_text(image, "exif-ifd2-OffsetTimeOriginal") == wanted


def test_places_are_written_to_a_hundred_thousandth_of_a_degree(
    written: tuple[Path, Gathered, Copies],
) -> None:
    target, gathered, copies = written
    for shot in shots_of(gathered):
        exif = Image.open(target / copies.paths[shot.key]).getexif()
        gps = exif.get_ifd(ExifTags.IFD.GPSInfo)
        if shot.place is None:
            assert not gps
            continue
        found = {}
        for axis, sign in (("Latitude", "N"), ("Longitude", "E")):
            degrees, minutes, seconds = gps[ExifTags.GPS[f"GPS{axis}"]]
            angle = float(degrees) + float(minutes) / 60 + float(seconds) / 3600
            found[axis] = angle if gps[ExifTags.GPS[f"GPS{axis}Ref"]] == sign else -angle
        assert found["Latitude"] == pytest.approx(shot.place.latitude, abs=1e-5)
        assert found["Longitude"] == pytest.approx(shot.place.longitude, abs=1e-5)


def test_libexif_reads_the_same_place(written: tuple[Path, Gathered, Copies]) -> None:
    target, _, copies = written
    image = pyvips.Image.new_from_file(str(target / copies.paths["path-up"]))
    # Picos: 43.1718 N is 43° 10' 18.48", 4.7852 W is 4° 47' 6.72"
    for axis, wanted in (("Latitude", (43, 10, 18.48)), ("Longitude", (4, 47, 6.72))):
        parts = vips_text(image, f"exif-ifd3-GPS{axis}").split()
        assert tuple(float(Fraction(part)) for part in parts) == wanted
    assert vips_text(image, "exif-ifd3-GPSLongitudeRef") == "W"


def test_turned_pictures_stand_up_again(written: tuple[Path, Gathered, Copies]) -> None:
    target, gathered, copies = written
    turned = [s for s in shots_of(gathered) if s.stored_as != 1]
    assert {s.stored_as for s in turned} == {6, 8}
    for shot in turned:
        source = Image.open(gathered.files[shot.key]).convert("RGB")
        if shot.crop is not None:
            width, height = source.size
            source = source.crop(
                (
                    round(shot.crop.x * width),
                    round(shot.crop.y * height),
                    round(shot.crop.right * width),
                    round(shot.crop.bottom * height),
                )
            )
        image = pyvips.Image.new_from_file(str(target / copies.paths[shot.key])).autorot()
        assert (image.width, image.height) == source.size
        if shot.profile == "none":
            difference = np.abs(image.numpy().astype(int) - np.asarray(source).astype(int))
            assert difference.mean() < 3


def test_captions_and_ratings_are_written(written: tuple[Path, Gathered, Copies]) -> None:
    target, gathered, copies = written
    kinds = set()
    for shot in shots_of(gathered):
        if shot.file_format != "JPEG":
            continue
        image = pyvips.Image.new_from_file(str(target / copies.paths[shot.key]))
        fields = image.get_fields()
        kinds.add(shot.caption_in)
        assert ("xmp-data" in fields) == (shot.caption_in == "xmp")
        assert ("iptc-data" in fields) == (shot.caption_in == "iptc")
        if shot.caption_in == "xmp":
            packet = bytes(image.get("xmp-data")).decode()
            assert f"<xmp:Rating>{shot.rating}</xmp:Rating>" in packet
            assert shot.caption in packet
        if shot.caption_in == "iptc":
            assert shot.caption.encode() in bytes(image.get("iptc-data"))
    assert kinds == {"none", "xmp", "iptc"}


def test_other_forms_carry_time_and_caption(written: tuple[Path, Gathered, Copies]) -> None:
    target, gathered, copies = written
    seen = set()
    for shot in shots_of(gathered):
        if shot.file_format == "JPEG":
            continue
        image = Image.open(target / copies.paths[shot.key])
        image.load()
        seen.add(image.format)
        details = image.getexif().get_ifd(ExifTags.IFD.Exif)
        stamp = details[ExifTags.Base.DateTimeOriginal]
        body = gathered.journey.body(shot.body)
        assert datetime.strptime(stamp, "%Y:%m:%d %H:%M:%S") == told_by(shot, body)
        packet = image.info.get("xmp") or image.info.get("XML:com.adobe.xmp", "")
        packet = packet.encode() if isinstance(packet, str) else packet
        assert shot.caption.encode() in packet
    assert seen == {"PNG", "TIFF", "WEBP"}


def test_wide_profiles_keep_the_colours(written: tuple[Path, Gathered, Copies]) -> None:
    """libvips brings the copies back to sRGB with its own engine and its own sRGB profile."""
    target, gathered, copies = written
    wide = [s for s in shots_of(gathered) if s.profile != "none"]
    assert {s.profile for s in wide} == {"display-p3", "adobe-rgb"}
    for shot in wide:
        image = pyvips.Image.new_from_file(str(target / copies.paths[shot.key])).autorot()
        back = image.icc_transform("srgb", embedded=True, intent="relative").numpy().astype(int)
        source = np.asarray(Image.open(gathered.files[shot.key]).convert("RGB")).astype(int)
        assert np.abs(back - source).mean() < 2.5
        raw = image.numpy().astype(int)
        assert np.abs(raw - source).mean() > np.abs(back - source).mean()


def test_names_are_odd_enough(written: tuple[Path, Gathered, Copies]) -> None:
    names = [Path(p).name for p in written[2].paths.values()]
    assert any(" " in n for n in names)
    assert any("Ú" in n for n in names)
    assert any("🍐" in n for n in names)
    assert any(n.startswith("DSC_") and n.endswith(".JPG") for n in names)
    assert any(n.startswith("IMG_2025") for n in names)


def test_frame_numbers_rise_with_time() -> None:
    journey = read_journey()
    names = name_copies(journey)
    shots = sorted((s for c in journey.chapters for s in c.shots), key=lambda s: s.taken)
    frames = [Path(names[s.key]).stem for s in shots if s.body == "h7" and not s.name]
    assert frames == sorted(frames)


def test_oddities_are_what_they_pretend(written: tuple[Path, Gathered, Copies]) -> None:
    target, _, copies = written
    text, duplicate, half = (target / name for name in copies.oddities)
    with pytest.raises(UnidentifiedImageError):
        Image.open(text)
    original = (target / copies.paths["tower-in-a-ring"]).read_bytes()
    assert duplicate.read_bytes() == original
    with pytest.raises(OSError, match="truncated"):
        Image.open(half).load()


def test_same_input_gives_same_bytes(
    tmp_path: Path, written: tuple[Path, Gathered, Copies]
) -> None:
    target, gathered, copies = written
    write_copies(tmp_path, gathered, NoProgress())
    for name in [*copies.paths.values(), *copies.oddities]:
        assert (tmp_path / name).read_bytes() == (target / name).read_bytes(), name


def test_a_second_run_writes_nothing_and_keeps_what_someone_changed(
    tmp_path: Path, stand_ins: SimpleNamespace
) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    target = tmp_path / "book"
    copies = write_copies(target, gathered, NoProgress())
    changed = target / copies.paths["larches"]
    changed.write_bytes(b"mine now")
    deleted = target / copies.paths["stream"]
    deleted.unlink()
    before = {p: p.stat().st_mtime_ns for p in target.rglob("*.*") if "photographs" in p.parts}
    again = write_copies(target, gathered, NoProgress())
    assert again.kept == (copies.paths["larches"],)
    assert changed.read_bytes() == b"mine now"
    assert deleted.is_file()
    for path, moment in before.items():
        assert path.stat().st_mtime_ns == moment, path


def test_without_its_record_it_compares_bytes(tmp_path: Path, stand_ins: SimpleNamespace) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    target = tmp_path / "book"
    copies = write_copies(target, gathered, NoProgress())
    (target / ".wayfold" / "demo-copies.json").unlink()
    assert write_copies(target, gathered, NoProgress()).kept == ()
    assert (target / copies.paths["larches"]).is_file()


def test_copies_that_belong_to_no_picture_any_more_go(
    tmp_path: Path, stand_ins: SimpleNamespace
) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    target = tmp_path / "book"
    first = write_copies(target, gathered, NoProgress())
    stand_ins.draw(target / "photographs" / "my own.png", 1)
    chapter = gathered.journey.chapters[0]
    fewer = Gathered(
        type(gathered.journey)(
            **{
                name: getattr(gathered.journey, name)
                for name in ("title", "subtitle", "author", "language", "bodies")
            },
            chapters=(chapter,),
        ),
        gathered.files,
        (),
        (),
    )
    write_copies(target, fewer, NoProgress())
    assert not (target / first.paths["arches"]).exists()
    assert (target / first.paths["path-up"]).is_file()
    assert (target / "photographs" / "my own.png").is_file()


def test_a_wrong_clock_shows_in_the_file(tmp_path: Path, stand_ins: SimpleNamespace) -> None:
    journey = stand_ins.with_clock_error(read_journey(), "h7", 3600 + 83)
    gathered = stand_ins.gather(tmp_path / "sources", journey)
    copies = write_copies(tmp_path / "book", gathered, NoProgress())
    shot = next(s for s in shots_of(gathered) if s.key == "larches")
    exif = Image.open(tmp_path / "book" / copies.paths["larches"]).getexif()
    stamp = exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal]
    shown = datetime.strptime(stamp, "%Y:%m:%d %H:%M:%S")
    assert shown - shot.taken.replace(tzinfo=None) == timedelta(seconds=3683)


def test_nothing_of_the_source_s_metadata_is_kept(
    tmp_path: Path, stand_ins: SimpleNamespace
) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    exif = Image.Exif()
    exif[ExifTags.Base.Artist] = "Somebody Else"
    source = Image.open(gathered.files["larches"])
    loud = tmp_path / "loud.jpg"
    source.save(loud, exif=exif, comment=b"Somebody Else", xmp=b"<x>Somebody Else</x>")
    gathered.files["larches"] = loud
    copies = write_copies(tmp_path / "book", gathered, NoProgress())
    assert b"Somebody" not in (tmp_path / "book" / copies.paths["larches"]).read_bytes()


def test_an_oriented_source_is_stood_up_first(tmp_path: Path, stand_ins: SimpleNamespace) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    turned = tmp_path / "turned.png"
    Image.open(gathered.files["larches"]).save(turned, exif=exif)
    gathered.files["larches"] = turned
    copies = write_copies(tmp_path / "book", gathered, NoProgress())
    upright = ImageOps.exif_transpose(Image.open(tmp_path / "book" / copies.paths["larches"]))
    assert upright.size == (64, 96)


def test_an_unreadable_source_is_named(tmp_path: Path, stand_ins: SimpleNamespace) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    gathered.files["larches"].write_bytes(b"no picture")
    with pytest.raises(UserError) as caught:
        write_copies(tmp_path / "book", gathered, NoProgress())
    assert "larches" in caught.value.where


def test_a_folder_that_cannot_be_written_is_named(
    tmp_path: Path, stand_ins: SimpleNamespace
) -> None:
    gathered = stand_ins.gather(tmp_path / "sources")
    (tmp_path / "book").write_text("a file where the folder should be")
    with pytest.raises(UserError) as caught:
        write_copies(tmp_path / "book", gathered, NoProgress())
    assert caught.value.remedy
