"""Gathering, without a network: a package archive in a folder, or no apt at all.

The archive follows Debian's repository format (wiki DebianRepository/Format); apt and dpkg
themselves judge whether it is right.
"""

from __future__ import annotations

import hashlib
import shutil
import subprocess
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image

from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.book.state import Pick
from wayfold.demo.compose import compose_demo_book
from wayfold.demo.copies import write_copies
from wayfold.demo.fetching import SUITES, wanted_files
from wayfold.demo.gather import default_cache_folder, gather_photographs
from wayfold.demo.model import Painting
from wayfold.demo.packages import DEBIAN_SUITES, PackageFetcher, extract_files
from wayfold.demo.painting.paint import paint_picture
from wayfold.demo.painting.palette import HOURS
from wayfold.demo.painting.scenes import SCENES
from wayfold.demo.scenario import read_journey

needs_apt = pytest.mark.skipif(
    shutil.which("apt-get") is None or shutil.which("dpkg-deb") is None,
    reason="this machine has no apt and dpkg",
)
SMALL = (240, 160)


def build_package(folder: Path, name: str, files: dict[str, bytes]) -> Path:
    root = folder / "build" / name
    (root / "DEBIAN").mkdir(parents=True)
    (root / "DEBIAN" / "control").write_text(
        f"Package: {name}\nVersion: 1.0-1\nArchitecture: all\nMaintainer: N <n@example.invalid>\n"
        "Description: stand-in\n"
    )
    for path, data in files.items():
        (root / path).parent.mkdir(parents=True, exist_ok=True)
        (root / path).write_bytes(data)
    deb = folder / "archive" / "pool" / f"{name}_1.0-1_all.deb"
    deb.parent.mkdir(parents=True, exist_ok=True)
    command = ["dpkg-deb", "--root-owner-group", "-b", str(root), str(deb)]
    subprocess.run(command, check=True, capture_output=True)
    return deb


def build_archive(folder: Path, debs: list[Path]) -> Path:
    """Write the indices of a package archive and an apt configuration folder that names it."""
    stanzas = []
    for deb in debs:
        data = deb.read_bytes()
        control = subprocess.run(
            ["dpkg-deb", "-f", str(deb)], check=True, capture_output=True, text=True
        ).stdout.strip()
        digest = hashlib.sha256(data).hexdigest()
        name = f"pool/{deb.name}"
        stanzas.append(f"{control}\nFilename: {name}\nSize: {len(data)}\nSHA256: {digest}\n")
    packages = "\n".join(stanzas).encode()
    arch = subprocess.run(
        ["dpkg", "--print-architecture"], check=True, capture_output=True, text=True
    ).stdout.strip()
    for suite in DEBIAN_SUITES:
        dist = folder / "archive" / "dists" / suite
        index = f"main/binary-{arch}/Packages"
        (dist / index).parent.mkdir(parents=True)
        (dist / index).write_bytes(packages)
        digest = hashlib.sha256(packages).hexdigest()
        (dist / "Release").write_text(
            f"Suite: {suite}\nCodename: {suite}\nComponents: main\nArchitectures: {arch}\n"
            f"Date: Sat, 01 Nov 2025 00:00:00 UTC\nSHA256:\n {digest} {len(packages)} {index}\n"
        )
    etc = folder / "etc"
    etc.mkdir()
    (etc / "sources.list").write_text(
        f"deb [trusted=yes] file:{folder / 'archive'} bookworm main\n"
    )
    return etc


@needs_apt
def test_packages_are_fetched_and_unpacked(tmp_path: Path) -> None:
    deb = build_package(tmp_path, "some-pictures", {"usr/share/a b.jpg": b"A", "usr/other": b"B"})
    etc = build_archive(tmp_path, [deb])
    fetcher = PackageFetcher(tmp_path / "apt", etc)
    fetcher.update_lists()
    fetched = fetcher.download("some-pictures", "trixie")
    found = extract_files(fetched, ["usr/share/a b.jpg", "usr/not there"], tmp_path / "out")
    assert found == ("usr/share/a b.jpg",)
    assert (tmp_path / "out/usr/share/a b.jpg").read_bytes() == b"A"
    assert not (tmp_path / "out/usr/other").exists()


@needs_apt
def test_a_package_that_is_not_there_is_told_in_apt_s_words(tmp_path: Path) -> None:
    deb = build_package(tmp_path, "some-pictures", {"usr/a": b"A"})
    fetcher = PackageFetcher(tmp_path / "apt", build_archive(tmp_path, [deb]))
    fetcher.update_lists()
    with pytest.raises(UserError, match="Unable to locate package") as caught:
        fetcher.download("no-such-pictures", "bookworm")
    assert caught.value.where == "no-such-pictures"


@needs_apt
def test_a_broken_package_is_told(tmp_path: Path) -> None:
    broken = tmp_path / "broken.deb"
    broken.write_bytes(b"!<arch>\nnot much")
    with pytest.raises(UserError, match="cannot be read"):
        extract_files(broken, ["usr/a"], tmp_path / "out")


@needs_apt
def test_a_machine_without_sources_is_told(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="knows no place"):
        PackageFetcher(tmp_path / "apt", tmp_path / "no-etc")


@needs_apt
def test_one_package_fails_and_the_rest_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stand_ins: SimpleNamespace
) -> None:
    shots = [s for c in read_journey().chapters for s in c.shots]
    package = "lomiri-wallpapers-16.04"
    files = {}
    for number, path in enumerate(wanted_files(shots, package)):
        picture = tmp_path / f"{number}.{path.rsplit('.', 1)[-1]}"
        if path.endswith("/copyright"):
            files[path] = b"Files: *\nCopyright: X\nLicense: CC-BY-4.0\n"
        else:
            stand_ins.draw(picture, number)
            files[path] = picture.read_bytes()
    etc = build_archive(tmp_path, [build_package(tmp_path, package, files)])
    monkeypatch.setattr(
        "wayfold.demo.fetching.PackageFetcher", lambda folder: PackageFetcher(folder, etc)
    )
    cache = tmp_path / "cache"
    gathered = gather_photographs(cache, NoProgress(), painting_size_px=SMALL)
    problems = {o.package: o.problem for o in gathered.outcomes}
    assert problems.pop(package) == ""
    assert set(problems) == set(SUITES) - {package}
    assert all(problems.values())
    keys = {s.key for c in gathered.journey.chapters for s in c.shots}
    assert {"path-up", "larches", "half-a-fig"} <= keys
    assert "arches" not in keys
    # Chapters left with too few photographs get paintings; Aizkorri keeps its five as they are.
    by_key = {c.key: c for c in gathered.journey.chapters}
    assert all(s.painting is None for s in by_key["aizkorri"].shots)
    assert any(s.painting is not None for s in by_key["rome"].shots)
    # The stand-in's copyright file says CC-BY-4.0 for all: where the credits differ, it is told.
    assert any("Bridge_by_Sander_Klootwijk" in remark for remark in gathered.remarks)
    assert not any("aitzgorri" in remark for remark in gathered.remarks)
    # What is there is not fetched again.
    (tmp_path / "archive").rename(tmp_path / "gone")
    again = gather_photographs(cache, NoProgress(), painting_size_px=SMALL)
    assert again.files == gathered.files
    assert {o.package: o.version for o in again.outcomes}[package] == "1.0-1"


@pytest.fixture
def no_apt(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path / "empty"))


@pytest.mark.usefixtures("no_apt")
def test_without_apt_everything_is_painted(tmp_path: Path) -> None:
    gathered = gather_photographs(tmp_path / "cache", NoProgress(), painting_size_px=SMALL)
    assert gathered.painted == len(gathered.files) >= 40
    assert all("apt-get" in outcome.problem for outcome in gathered.outcomes)
    for path in gathered.files.values():
        with Image.open(path) as picture:
            assert picture.size == SMALL
            picture.load()
    copies = write_copies(tmp_path / "book", gathered, NoProgress())
    book = compose_demo_book(gathered, copies)
    assert "no photographs in this copy" in book.texts["colophon"]
    assert any("painted by Wayfold itself" in notice for notice in book.notices)
    assert sum(c.pick is Pick.HERO for c in book.choices.values()) >= 8


def test_every_scene_can_be_painted_at_every_hour(tmp_path: Path) -> None:
    looks = []
    for scene in SCENES:
        for hour in HOURS:
            path = tmp_path / f"{scene} {hour}.jpg"
            paint_picture(Painting(scene, hour, 5), path, SMALL)
            pixels = np.asarray(Image.open(path)).astype(float)
            assert pixels.shape == (SMALL[1], SMALL[0], 3)
            assert pixels.std() > 8, (scene, hour)  # no flat sheet of colour
            looks.append(pixels)
    means = {tuple(np.round(look.mean(axis=(0, 1)), 2)) for look in looks}
    assert len(means) == len(looks)


def test_the_same_painting_gives_the_same_file(tmp_path: Path) -> None:
    for name in ("one.jpg", "two.jpg"):
        paint_picture(Painting("coast", "evening", 9), tmp_path / name, SMALL)
    assert (tmp_path / "one.jpg").read_bytes() == (tmp_path / "two.jpg").read_bytes()


def test_a_cache_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "cache").write_text("in the way")
    with pytest.raises(UserError) as caught:
        gather_photographs(tmp_path / "cache", NoProgress(), paint_only=True)
    assert "cache" in caught.value.where


def test_the_cache_folder_follows_xdg(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert default_cache_folder() == tmp_path / "wayfold" / "demo"
