"""From folders to the catalogue: who is found, once, in order; moved, edited and cached."""

from __future__ import annotations

import hashlib
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress
from wayfold.photos import read as reading
from wayfold.photos.catalogue import Catalogue, KnownFile
from wayfold.photos.derive import DerivativeJob, make_derivatives, make_preview


class Memory:
    """A cache in memory."""

    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def get(self, key: str) -> bytes | None:
        return self.kept.get(key)

    def put(self, key: str, data: bytes) -> None:
        self.kept[key] = data


def remember(catalogue: Catalogue) -> dict[str, KnownFile]:
    return {p.id: KnownFile(p.path, p.content) for p in catalogue.photos}


def names(catalogue: Catalogue) -> list[str]:
    return [Path(p.path).name for p in catalogue.photos]


def test_folders_are_read_to_the_bottom_and_hidden_ones_passed_over(
    folder: Path, paint: Any, read: Any
) -> None:
    wanted = ["a.jpg", "deep/er/b.JPG", "Ünïcode 🚂/ça.jpeg", "out/c.jpg", "with space/d e.jpg"]
    passed_over = [".hidden/x.jpg", ".wayfold/x.jpg", "book/out/x.jpg", "._a.jpg", "@eaDir/x.jpg",
                   "__MACOSX/x.jpg"]  # fmt: skip
    (folder / "book").mkdir()
    (folder / "book" / "book.toml").write_text("")
    for number, name in enumerate(wanted + passed_over):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        paint(40, 30, number).save(folder / name, "JPEG")
    catalogue = read(folder)
    assert [p.path for p in catalogue.photos] == sorted((folder / n).as_posix() for n in wanted)


def test_overlapping_folders_are_read_once(folder: Path, paint: Any, read: Any) -> None:
    (folder / "in").mkdir()
    paint().save(folder / "in" / "a.jpg")
    catalogue = read(folder, folder / "in", folder)
    assert names(catalogue) == ["a.jpg"]
    assert catalogue.copies == {}


def test_copies_are_one_photograph(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "b.jpg")
    for name in ("a copy.jpg", "z.jpg"):
        shutil.copy(folder / "b.jpg", folder / name)
    catalogue = read(folder)
    (photo,) = catalogue.photos
    assert names(catalogue) == ["a copy.jpg"]
    assert [Path(p).name for p in catalogue.copies[photo.id]] == ["b.jpg", "z.jpg"]
    assert photo.id == photo.content[:12]


def test_moved_renamed_edited_and_lost(folder: Path, paint: Any, read: Any) -> None:
    for name in ("moved", "edited", "lost", "stays"):
        paint(seed=ord(name[0])).save(folder / f"{name}.jpg")
    first = read(folder)
    by_name = {Path(p.path).stem: p for p in first.photos}
    (folder / "elsewhere").mkdir()
    (folder / "moved.jpg").rename(folder / "elsewhere" / "renamed.jpeg")
    paint(300, 200).save(folder / "edited.jpg")
    (folder / "lost.jpg").unlink()

    second = read(folder, known=remember(first))
    again = {p.id: p for p in second.photos}
    assert again[by_name["moved"].id].path.endswith("elsewhere/renamed.jpeg")
    edited = again[by_name["edited"].id]
    assert edited.size.width_px == 300
    assert edited.content != by_name["edited"].content
    assert second.missing == (by_name["lost"].id,)
    assert again[by_name["stays"].id] == by_name["stays"]


def test_unreadable_known_picture_is_missing_and_explained(
    folder: Path, paint: Any, read: Any
) -> None:
    paint().save(folder / "a.jpg")
    first = read(folder)
    (folder / "a.jpg").write_bytes((folder / "a.jpg").read_bytes()[:2000])
    second = read(folder, known=remember(first))
    assert second.missing == (first.photos[0].id,)
    assert [f.rule for f in second.findings] == ["photos.truncated"]


def test_second_reading_opens_no_picture(
    folder: Path, paint: Any, read: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    exif = {0x0110: "Body"}
    for number in range(3):
        picture = paint(seed=number)
        block = picture.getexif()
        block.update(exif)
        picture.save(folder / f"IMG_20240601_09301{number}.jpg", exif=block)
    (folder / "bad.jpg").write_bytes(b"nothing")
    cache = Memory()
    first = read(folder, cache=cache)
    monkeypatch.setattr(reading, "hash_file", lambda _: pytest.fail("hashed again"))
    monkeypatch.setattr(reading, "read_file", lambda _: pytest.fail("read again"))
    assert read(folder, cache=cache) == first
    assert len(first.photos) == 3
    assert len([f for f in first.findings if f.rule == "photos.time-from-name"]) == 3


def test_moved_folder_is_hashed_but_not_read_again(
    folder: Path, paint: Any, read: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    paint().save(folder / "a.jpg")
    cache = Memory()
    first = read(folder, cache=cache)
    moved = folder.rename(folder.parent / "moved")
    monkeypatch.setattr(reading, "read_file", lambda _: pytest.fail("read again"))
    assert read(moved, cache=cache).photos[0].content == first.photos[0].content


def test_what_the_person_has_mended_is_read_the_next_time(
    folder: Path, build_dng: Any, read: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    (folder / "a.dng").write_bytes(build_dng())
    cache = Memory()
    with monkeypatch.context() as without:
        without.setitem(sys.modules, "rawpy", None)
        assert read(folder, cache=cache).photos == ()
    assert names(read(folder, cache=cache)) == ["a.dng"]


def test_damaged_cache_is_worked_out_anew(folder: Path, paint: Any, read: Any) -> None:
    paint().save(folder / "a.jpg")
    cache = Memory()
    first = read(folder, cache=cache)
    for key, data in cache.kept.items():
        if data.startswith(b"{"):
            cache.kept[key] = b'{"format": "JPEG"'
    assert read(folder, cache=cache) == first


def test_touched_picture_with_new_bytes_is_read_again(folder: Path, paint: Any, read: Any) -> None:
    paint(seed=1).save(folder / "a.bmp.png", compress_level=0)
    cache = Memory()
    first = read(folder, cache=cache)
    size = (folder / "a.bmp.png").stat().st_size
    paint(seed=2).save(folder / "a.bmp.png", compress_level=0)
    assert (folder / "a.bmp.png").stat().st_size == size
    assert read(folder, cache=cache).photos[0].content != first.photos[0].content


def test_moment_comes_from_the_name_only_where_the_file_has_none_and_never_from_the_disk(
    folder: Path, paint: Any, read: Any
) -> None:
    paint(seed=1).save(folder / "IMG_20240601_093015.jpg")
    paint(seed=2).save(folder / "no time.jpg")
    os.utime(folder / "no time.jpg", (1_500_000_000, 1_500_000_000))
    picture = paint(seed=3)
    exif = picture.getexif()
    exif.get_ifd(0x8769)[0x9003] = "2001:02:03 04:05:06"
    picture.save(folder / "IMG_20240601_101010.jpg", exif=exif)
    catalogue = read(folder)
    taken = {Path(p.path).name: p.taken and p.taken.local for p in catalogue.photos}
    assert taken == {
        "IMG_20240601_093015.jpg": datetime(2024, 6, 1, 9, 30, 15),
        "IMG_20240601_101010.jpg": datetime(2001, 2, 3, 4, 5, 6),
        "no time.jpg": None,
    }
    (finding,) = catalogue.findings
    assert (finding.rule, Path(finding.where).name) == (
        "photos.time-from-name",
        "IMG_20240601_093015.jpg",
    )


def test_result_does_not_hang_on_the_workers(folder: Path, paint: Any, read: Any) -> None:
    for number in range(30):
        paint(60, 40, number % 20).save(folder / f"{number:02}.jpg")
    (folder / "bad.jpg").write_bytes(b"x")
    alone, two = read(folder, workers=0), read(folder, workers=2)
    assert alone == two
    assert len(two.photos) == 20
    assert sum(len(c) for c in two.copies.values()) == 10


def test_progress_counts_every_file_once(folder: Path, paint: Any, read: Any) -> None:
    for number in range(70):
        paint(16, 12, number % 50).save(folder / f"{number:02}.jpg")
    (folder / "bad.jpg").write_bytes(b"x")
    (folder / "empty.jpg").write_bytes(b"")
    seen: dict[str, list[int]] = {}

    class Counting:
        @contextmanager
        def task(self, label: str, total: int) -> Iterator[Any]:
            seen[label] = [total, 0]

            class Counter:
                def advance(self, steps: int = 1) -> None:
                    seen[label][1] += steps

            yield Counter()

    cache = Memory()
    for _ in range(2):
        read(folder, cache=cache, progress=Counting(), workers=2)
        assert seen["Reading photographs"] == [72, 72]


def fingerprint(folder: Path) -> dict[str, Any]:
    return {
        str(path): (
            hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else None,
            path.stat().st_mtime_ns,
            path.stat().st_mode,
            path.stat().st_size,
        )
        for path in [folder, *folder.rglob("*")]
    }


def test_originals_are_never_written_to(
    folder: Path, paint: Any, read: Any, build_dng: Any, heif_images: Path, tmp_path: Path
) -> None:
    for name in ("a.jpg", "b.png", "c.tif", "d.webp", "e/f.jpg"):
        (folder / name).parent.mkdir(exist_ok=True)
        paint(seed=ord(name[0])).save(folder / name)
    (folder / "g.dng").write_bytes(build_dng())
    shutil.copy(heif_images / "heif/RGB_8__128x128.heif", folder / "h.heif")
    (folder / "bad.jpg").write_bytes(b"x")
    (folder / "a.xmp").write_bytes(b"<x/>")
    before = fingerprint(folder)
    catalogue = read(folder, workers=2)
    assert len(catalogue.photos) == 7
    target = tmp_path / "out"
    jobs = [
        DerivativeJob(p, Rect(0, 0, 1, 1), 20, 20, 300, target / p.id) for p in catalogue.photos
    ]
    assert make_derivatives(jobs, NoProgress()) == ()
    for photo in catalogue.photos:
        assert make_preview(photo, Rect(0, 0, 1, 1), 50, target / f"{photo.id}-s") is None
    assert len(list(target.iterdir())) == 14
    assert fingerprint(folder) == before
