"""Every kind of file that is no good photograph: named, explained, and the rest goes on."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import shutil
import struct
import sys
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from wayfold.base.errors import CancelledError
from wayfold.base.findings import Severity
from wayfold.photos import read_file
from wayfold.photos.refusals import MAX_PIXELS
from wayfold.photos.scan import FoundFile

# In a worker process these are silenced; here Pillow may say what it thinks of broken files.
pytestmark = pytest.mark.filterwarnings("ignore::UserWarning:PIL")


def encode(image: Image.Image, kind: str, **options: Any) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, kind, **options)
    return buffer.getvalue()


def png_claiming(width: int, height: int) -> bytes:
    """A PNG header that claims a size, with a handful of data behind."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(bytes(1000)))
    return b"\x89PNG\r\n\x1a\n" + body + chunk(b"IEND", b"")


def jpeg_claiming(data: bytes, width: int, height: int) -> bytes:
    """A JPEG whose frame header claims another size."""
    place = data.index(b"\xff\xc0") + 5
    return data[:place] + struct.pack(">HH", height, width) + data[place + 4 :]


def make_bad(paint: Callable[..., Image.Image], build_tiff: Any, build_dng: Any) -> dict[str, Any]:
    picture = paint(320, 200)
    jpeg = encode(picture, "JPEG", quality=90)
    progressive = encode(picture, "JPEG", quality=90, progressive=True)
    png = encode(picture, "PNG")
    tiff = encode(picture, "TIFF")
    deflated = encode(picture, "TIFF", compression="tiff_adobe_deflate")
    webp = encode(picture, "WEBP", quality=90)
    gif = encode(picture.convert("P"), "GIF")
    damaged_png = bytearray(png)
    damaged_png[len(png) // 2] ^= 0x55
    third = len(jpeg) // 3
    huge_tiff = build_tiff([(256, 4, 60000), (257, 4, 60000), (258, 3, 8), (259, 3, 1),
                            (262, 3, 1), (273, 4, 8), (278, 4, 60000), (279, 4, 9)])  # fmt: skip
    return {
        "empty.jpg": (b"", "photos.empty"),
        "empty.heic": (b"", "photos.empty"),
        "only-start.jpg": (jpeg[:2], "photos.not-a-picture"),
        "only-header.jpg": (jpeg[:300], "photos.corrupt"),
        "third.jpg": (jpeg[:third], "photos.truncated"),
        "two-thirds.jpg": (jpeg[: 2 * third], "photos.truncated"),
        "last-kilobyte.jpg": (jpeg[:-1000], "photos.truncated"),
        "last-bytes.jpg": (jpeg[:-20], "photos.truncated"),
        "progressive.jpg": (progressive[: len(progressive) // 2], "photos.truncated"),
        "zeroed-tail.jpg": (jpeg[:third] + bytes(2 * third), "photos.truncated"),
        "zeros.jpg": (bytes(50_000), "photos.not-a-picture"),
        "noise.jpg": (b"\x07\x91\x44" * 9000, "photos.not-a-picture"),
        "text.jpg": (b"Not a picture at all.\n", "photos.not-a-picture"),
        "page.jpeg": (b"<!DOCTYPE html><title>404</title>", "photos.not-a-picture"),
        "document.png": (b"%PDF-1.7\n", "photos.not-a-picture"),
        "video.heic": (b"\0\0\0\x18ftypisom\0\0\2\0isommp41" + bytes(99), "photos.not-a-picture"),
        "gif.jpg": (gif, "photos.not-a-picture"),
        "cut.png": (png[: len(png) // 2], "photos.truncated"),
        "damaged.png": (bytes(damaged_png), "photos.corrupt"),
        "header.png": (png[:20], "photos.corrupt"),
        "cut.tif": (tiff[: len(tiff) // 2], "photos."),
        "cut-deflate.tif": (deflated[:-5000], "photos."),
        "header.tiff": (tiff[:8], "photos.corrupt"),
        "cut.webp": (webp[: len(webp) // 2], "photos."),
        "bomb.png": (png_claiming(60_000, 60_000), "photos.gigantic"),
        "wide-bomb.png": (png_claiming(2_000_000_000, 1), "photos.gigantic"),
        "bomb.jpg": (jpeg_claiming(jpeg, 65_500, 65_500), "photos.gigantic"),
        "bomb.tif": (huge_tiff, "photos.gigantic"),
        "no-size.jpg": (jpeg_claiming(jpeg, 0, 0), "photos.corrupt"),
        "not-a.cr2": (b"certainly no raw file" * 99, "photos.corrupt"),
        "cut.dng": (build_dng(640, 480)[:200_000], "photos.truncated"),
        "boxes.heic": (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(40), "photos.corrupt"),
        "cut.heic": (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\x10\0meta", "photos.truncated"),
    }


@pytest.fixture
def bad_folder(folder: Path, paint: Any, build_tiff: Any, build_dng: Any) -> dict[str, str]:
    cases = make_bad(paint, build_tiff, build_dng)
    for name, (data, _) in cases.items():
        (folder / name).write_bytes(data)
    paint().save(folder / "good.jpg")
    return {name: rule for name, (_, rule) in cases.items()}


def test_each_bad_file_is_named_and_explained_and_the_good_one_read(
    bad_folder: dict[str, str], folder: Path, read: Any
) -> None:
    catalogue = read(folder)
    said = {Path(f.where).name: f for f in catalogue.findings}
    assert said.keys() == bad_folder.keys()
    assert len(bad_folder) >= 25
    for name, rule in bad_folder.items():
        finding = said[name]
        assert finding.rule.startswith(rule), (name, finding)
        assert finding.severity is Severity.WARN
        assert finding.message.endswith(".")
        assert finding.remedy
    assert [Path(p.path).name for p in catalogue.photos] == ["good.jpg"]


def test_worker_processes_say_the_same(bad_folder: dict[str, str], folder: Path, read: Any) -> None:
    assert read(folder, workers=2) == read(folder, workers=0)


def test_what_a_stranger_is_is_said_in_words(folder: Path, bad_folder: Any, read: Any) -> None:
    said = {Path(f.where).name: f.message for f in read(folder).findings}
    assert "GIF" in said["gif.jpg"]
    assert "PDF" in said["document.png"]
    assert "web page" in said["page.jpeg"]
    assert "zeros" in said["zeros.jpg"]
    assert "video" in said["video.heic"]
    assert f"{MAX_PIXELS // 10**6} million" in said["bomb.png"]


def test_gigantic_is_refused_by_its_header_alone(
    folder: Path, paint: Any, read: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "bomb.png").write_bytes(png_claiming(60_000, 60_000))
    monkeypatch.setattr("wayfold.photos.raster_file.load_stored", lambda *_: pytest.fail("decoded"))
    (finding,) = read(folder).findings
    assert finding.rule == "photos.gigantic"


@pytest.mark.parametrize(
    ("name", "kind", "file_format"),
    [("a.jpg", "PNG", "PNG"), ("a.png", "JPEG", "JPEG"), ("a.heic", "JPEG", "JPEG"),
     ("a.tif", "WEBP", "WebP"), ("a.nef", "JPEG", "JPEG")],
)  # fmt: skip
def test_mislabelled_picture_is_read_as_what_it_is(
    folder: Path, paint: Any, read: Any, name: str, kind: str, file_format: str
) -> None:
    (folder / name).write_bytes(encode(paint(), kind))
    catalogue = read(folder)
    (photo,), (finding,) = catalogue.photos, catalogue.findings
    assert photo.file_format == file_format
    assert (finding.rule, finding.severity) == ("photos.mislabelled", Severity.NOTE)
    assert file_format in finding.message


def test_third_party_broken_files(pillow_images: Path, folder: Path, read: Any) -> None:
    # Broken and odd files of the Pillow project's own tests.
    expected = {
        "truncated_jpeg.jpg": "photos.truncated", "ultrahdr.jpg": "photos.truncated",
        "broken.png": "photos.corrupt", "truncated_image.png": "photos.truncated",
        "broken_data_stream.png": "photos.truncated", "libtiff_segfault.tif": "photos.corrupt",
        "png_decompression_dos.png": "photos.corrupt", "hopper_lzma.tif": "photos.unsupported",
        "tiff_overflow_rows_per_strip.tif": "photos.corrupt",
    }  # fmt: skip
    harmless = ["hopper_bad_exif.jpg", "invalid-exif.jpg", "photoshop-200dpi-broken.jpg",
                "exif_gps_typeerror.jpg", "sugarshack_bad_mpo_header.jpg"]  # fmt: skip
    for name in (*expected, *harmless):
        shutil.copy(pillow_images / name, folder)
    catalogue = read(folder)
    assert {Path(f.where).name: f.rule for f in catalogue.findings} == expected
    assert sorted(Path(p.path).name for p in catalogue.photos) == sorted(harmless)


def test_third_party_broken_heic(heif_images: Path, folder: Path, read: Any) -> None:
    # Broken files of the pillow-heif project's own tests.
    names = ["heif_corrupted/corrupted.heic", "heif_corrupted/corrupted.hif",
             "heif_corrupted/empty.heic", "heif_truncated/truncated.heic"]  # fmt: skip
    for name in names:
        shutil.copy(heif_images / name, folder)
    catalogue = read(folder)
    assert catalogue.photos == ()
    assert sorted(f.rule for f in catalogue.findings) == ["photos.empty"] + 3 * ["photos.truncated"]


def test_file_that_kills_its_reader_is_named_and_the_rest_read(
    heif_images: Path, folder: Path, paint: Any, read: Any
) -> None:
    # This file makes the HEIC decoder die with a segmentation fault (pi-heif 1.4).
    shutil.copy(heif_images / "heif_special/invalid_metadata_type.heic", folder / "killer.heic")
    for number in range(12):
        paint(40, 30, number).save(folder / f"{number}.jpg")
    catalogue = read(folder, workers=2)
    assert len(catalogue.photos) == 12
    (finding,) = catalogue.findings
    assert Path(finding.where).name == "killer.heic"


def test_damaged_metadata_does_not_cost_the_picture(folder: Path, paint: Any, read: Any) -> None:
    picture = paint()
    picture.save(folder / "exif.jpg", exif=b"Exif\0\0II*\0\xff\xff\xff\x7f" + os.urandom(64))
    picture.save(folder / "exif2.jpg", exif=b"Exif\0\0garbage")
    picture.save(folder / "xmp.jpg", xmp=b"<x:xmpmeta <<<>>>")
    picture.save(folder / "icc.jpg", icc_profile=b"no profile" * 20)
    picture.save(folder / "icc.png", icc_profile=b"no profile" * 20)
    catalogue = read(folder)
    assert len(catalogue.photos) == 5
    assert {p.profile for p in catalogue.photos} == {"sRGB"}
    assert catalogue.findings == ()


def test_file_without_right_to_read(
    open_folder: Path, paint: Any, read: Any, lose_rights: Any
) -> None:
    paint(seed=2).save(open_folder / "open.jpg")
    paint().save(open_folder / "closed.jpg")
    (open_folder / "closed.jpg").chmod(0)
    with lose_rights():
        catalogue = read(open_folder)
    assert len(catalogue.photos) == 1
    (finding,) = catalogue.findings
    assert (finding.rule, Path(finding.where).name) == ("photos.unreadable", "closed.jpg")
    assert "not permitted" in finding.message


def test_folder_without_right_to_look(
    open_folder: Path, paint: Any, read: Any, lose_rights: Any
) -> None:
    paint().save(open_folder / "open.jpg")
    closed = open_folder / "closed"
    closed.mkdir(mode=0)
    with lose_rights():
        catalogue = read(open_folder)
    assert len(catalogue.photos) == 1
    (finding,) = catalogue.findings
    assert (finding.rule, finding.where) == ("photos.folder", str(closed))


@pytest.mark.parametrize("code", [errno.EIO, errno.ESTALE])
def test_failing_disk(
    folder: Path, paint: Any, read: Any, monkeypatch: pytest.MonkeyPatch, code: int
) -> None:
    paint().save(folder / "a.jpg")

    def fail(_: str) -> Iterator[bytes]:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(read_file, "_read_chunks", fail)
    (finding,) = read(folder).findings
    assert finding.rule == "photos.unreadable"
    assert os.strerror(code) in finding.message


class Meddling:
    """A progress during which something happens to the folder, once reading has begun."""

    def __init__(self, meddle: Callable[[], None]) -> None:
        self.meddle = meddle

    @contextlib.contextmanager
    def task(self, label: str, total: int) -> Iterator[Any]:  # noqa: ARG002
        if "Reading" in label:
            self.meddle()

        class Quiet:
            def advance(self, steps: int = 1) -> None:
                pass

        yield Quiet()


def test_file_that_vanishes_midway(folder: Path, paint: Any, read: Any) -> None:
    for name in "ab":
        paint(seed=ord(name)).save(folder / f"{name}.jpg")
    catalogue = read(folder, progress=Meddling((folder / "a.jpg").unlink))
    assert [Path(p.path).name for p in catalogue.photos] == ["b.jpg"]
    (finding,) = catalogue.findings
    assert (finding.rule, Path(finding.where).name) == ("photos.vanished", "a.jpg")


def test_folder_that_vanishes_midway(folder: Path, paint: Any, read: Any) -> None:
    inside = folder / "card"
    inside.mkdir()
    for number in range(3):
        paint(seed=number).save(inside / f"{number}.jpg")
    paint(seed=9).save(folder / "stays.jpg")
    catalogue = read(folder, progress=Meddling(lambda: shutil.rmtree(inside)), workers=2)
    assert [Path(p.path).name for p in catalogue.photos] == ["stays.jpg"]
    assert [f.rule for f in catalogue.findings] == ["photos.vanished"] * 3


def test_file_that_is_still_being_written(folder: Path, paint: Any) -> None:
    path = folder / "a.jpg"
    paint().save(path)
    earlier = FoundFile(str(path), path.stat().st_size - 10, path.stat().st_mtime_ns)
    for outcome in (read_file.hash_file(earlier), read_file.read_file(earlier)):
        assert getattr(outcome, "rule", None) == "photos.changed"
        assert getattr(outcome, "lasting", None) is False


def test_missing_folder_and_file_for_a_folder(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "a.jpg")
    catalogue = read(folder / "nowhere", folder / "a.jpg", folder)
    assert len(catalogue.photos) == 1
    assert [f.rule for f in catalogue.findings] == ["photos.folder", "photos.folder"]
    assert all(f.remedy for f in catalogue.findings)


@pytest.mark.skipif(sys.platform == "win32", reason="links and pipes are made otherwise there")
def test_links_and_pipes(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "a.jpg")
    (folder / "loop").symlink_to(folder)
    (folder / "dangling.jpg").symlink_to(folder / "gone.jpg")
    os.mkfifo(folder / "pipe.jpg")
    (folder / "folder.jpg").mkdir()
    catalogue = read(folder)
    assert [Path(p.path).name for p in catalogue.photos] == ["a.jpg"]
    rules = {Path(f.where).name: f.rule for f in catalogue.findings}
    assert rules == {"dangling.jpg": "photos.vanished", "pipe.jpg": "photos.others"}


@pytest.mark.skipif(sys.platform != "linux", reason="only there can a name be no text")
def test_name_that_is_no_text(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "a.jpg")
    (folder / "a.jpg").rename(folder / os.fsdecode(b"\xff\xfe.jpg"))
    catalogue = read(folder)
    assert catalogue.photos == ()
    (finding,) = catalogue.findings
    assert finding.rule == "photos.name"
    finding.where.encode()


def test_raw_without_the_raw_reader(
    folder: Path, build_dng: Any, read: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(5):
        (folder / f"{number}.dng").write_bytes(build_dng() + bytes(number))
    monkeypatch.setitem(sys.modules, "rawpy", None)
    catalogue = read(folder)
    (finding,) = catalogue.findings  # one, not five
    assert finding.rule == "photos.raw-extra"
    assert "wayfold[raw]" in finding.remedy
    assert "5 files" in finding.message


def test_files_that_are_no_photographs_share_one_note(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "a.jpg")
    for name in ("a.txt", "b.txt", "clip.mp4", "plan.pdf", "README"):
        (folder / name).write_text("x")
    paint().save(folder / "b.gif")
    findings = {f.rule: f for f in read(folder).findings}
    assert findings.keys() == {"photos.others", "photos.other-kind"}
    assert "2 txt" in findings["photos.others"].message
    assert findings["photos.others"].severity is Severity.NOTE
    assert "b.gif" in findings["photos.other-kind"].message


def test_no_photographs_at_all(folder: Path, read: Any) -> None:
    catalogue = read(folder)
    assert (catalogue.photos, catalogue.findings, catalogue.missing) == ((), (), ())


def test_stopping_is_heard(folder: Path, paint: Any, read: Any) -> None:
    for number in range(8):
        paint(40, 30, number).save(folder / f"{number}.jpg")

    class Stopping:
        @contextlib.contextmanager
        def task(self, label: str, total: int) -> Iterator[Any]:  # noqa: ARG002
            class Stop:
                def advance(self, steps: int = 1) -> None:  # noqa: ARG002
                    if "Reading" in label:
                        raise CancelledError

            yield Stop()

    with pytest.raises(CancelledError):
        read(folder, progress=Stopping(), workers=2)
