"""Fetches the packages with photographs, keeping of each only the pictures that are wanted."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterable
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.base.progress import Progress, Task
from wayfold.demo.licences import metadata_path
from wayfold.demo.model import PackageOutcome, Shot
from wayfold.demo.packages import PackageFetcher, extract_files

SUITES = {
    "lomiri-wallpapers-16.04": "bookworm",
    "lomiri-wallpapers-20.04": "bookworm",
    "budgie-backgrounds": "trixie",
    "plasma-workspace-wallpapers": "bookworm",
    "lxqt-themes": "bookworm",
    "mate-backgrounds": "bookworm",
}
"""The packages with photographs, and the Debian suite whose version has those we looked at."""

_DONE = "fetched.json"


def wanted_files(shots: Iterable[Shot], package: str) -> tuple[str, ...]:
    """Give the paths wanted out of ``package``: its pictures and what tells their licences."""
    pictures = [s.source for s in shots if s.credit.package == package and s.source]
    metadata = [m for p in pictures if (m := metadata_path(p))]
    return (f"usr/share/doc/{package}/copyright", *pictures, *metadata)


def fetch_packages(
    folder: Path, shots: list[Shot], progress: Progress
) -> tuple[PackageOutcome, ...]:
    """Fetch what ``shots`` want and ``folder`` lacks; say of each package how it went."""
    wanted = {package: wanted_files(shots, package) for package in SUITES}
    lacking = [p for p in SUITES if _read_done(folder / p).get("wanted") != list(wanted[p])]
    outcomes = {
        p: PackageOutcome(p, str(_read_done(folder / p).get("version", ""))) for p in SUITES
    }
    if lacking:
        apt_folder = folder / "apt"
        with progress.task("Fetching photographs", len(lacking) + 1) as task:
            outcomes.update(_fetch_lacking(folder, apt_folder, wanted, lacking, task))
        # The lists of all packages are large, and only needed to fetch.
        shutil.rmtree(apt_folder, ignore_errors=True)
    return tuple(outcomes.values())


def _fetch_lacking(
    folder: Path,
    apt_folder: Path,
    wanted: dict[str, tuple[str, ...]],
    lacking: list[str],
    task: Task,
) -> dict[str, PackageOutcome]:
    try:
        fetcher = PackageFetcher(apt_folder)
    except UserError as error:
        return {package: PackageOutcome(package, problem=error.what) for package in lacking}
    complaint = fetcher.update_lists()
    task.advance()
    outcomes = {}
    for package in lacking:
        try:
            deb = fetcher.download(package, SUITES[package])
            outcomes[package] = _unpack(deb, package, wanted[package], folder)
        except UserError as error:
            problem = "; ".join(filter(None, (error.what, complaint)))
            outcomes[package] = PackageOutcome(package, problem=problem)
        task.advance()
    return outcomes


def _unpack(deb: Path, package: str, wanted: tuple[str, ...], folder: Path) -> PackageOutcome:
    version = deb.name.split("_")[1].replace("%3a", ":")
    fresh = folder / f"{package}.part"
    shutil.rmtree(fresh, ignore_errors=True)
    found = extract_files(deb, wanted, fresh)
    record = {"version": version, "wanted": list(wanted), "found": list(found)}
    (fresh / _DONE).write_text(json.dumps(record), "utf-8")
    shutil.rmtree(folder / package, ignore_errors=True)
    fresh.rename(folder / package)
    deb.unlink()
    absent = [Path(w).name for w in wanted if w not in found and _is_picture(w)]
    problem = f"version {version} has no {', '.join(absent)}" if absent else ""
    return PackageOutcome(package, version, problem)


def _is_picture(path: str) -> bool:
    return path.endswith((".jpg", ".png"))


def _read_done(folder: Path) -> dict[str, object]:
    try:
        record = json.loads((folder / _DONE).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return record if isinstance(record, dict) else {}
