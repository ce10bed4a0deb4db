"""Fetches single files out of Debian packages, without installing anything.

apt is given a configuration of its own (its own lists, cache and sources), so that neither root
nor up-to-date lists are needed and the machine's own state stays as it is. apt itself checks the
signatures and sums.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tarfile
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from wayfold.base.errors import UserError
from wayfold.demo.sources import AptSource, read_machine_sources, write_deb822

# Debian 12's and 13's packages are both wanted, whichever of them (or neither) the machine runs.
DEBIAN_SUITES = ("bookworm", "trixie")
_DEBIAN_NAMES = frozenset(
    {*DEBIAN_SUITES, "bullseye", "forky", "oldstable", "stable", "testing", "sid", "unstable"}
)
UPDATE_SECONDS = 300
DOWNLOAD_SECONDS = 600
_TOOLS = ("apt-get", "dpkg-deb")


class PackageFetcher:
    """Asks apt for packages by name, in a folder of its own.

    Raises UserError where the machine has no apt, or apt knows no source.
    """

    def __init__(self, folder: Path, etc: Path = Path("/etc/apt")) -> None:
        absent = [tool for tool in _TOOLS if shutil.which(tool) is None]
        if absent:
            raise UserError(
                f"This machine has no {' and no '.join(absent)}.",
                remedy="The demo's photographs come from Debian packages; it paints its own here.",
            )
        sources = _wanted_sources(read_machine_sources(etc))
        if not sources:
            raise UserError("apt knows no place to fetch packages from.", where=str(etc))
        self._folder = folder
        self._prepare(sources)

    def update_lists(self) -> str:
        """Fetch the lists of packages; give apt's complaint, or "" when all went well."""
        return self._run(["update"], UPDATE_SECONDS, self._folder)[1]

    def download(self, package: str, suite: str) -> Path:
        """Fetch ``package``, from ``suite`` where apt knows it, and give the .deb file.

        Raises UserError with apt's own words.
        """
        target = self._folder / "debs" / package
        target.mkdir(parents=True, exist_ok=True)
        problem = ""
        for name in (f"{package}/{suite}", package):
            for stale in target.glob("*.deb"):
                stale.unlink()
            code, problem = self._run(["download", name], DOWNLOAD_SECONDS, target)
            fetched = sorted(target.glob("*.deb"))
            if code == 0 and fetched:
                return fetched[0]
        raise UserError(problem or "apt gave nothing.", where=package)

    def _prepare(self, sources: tuple[AptSource, ...]) -> None:
        for part in ("state/lists/partial", "cache/archives/partial", "sources", "debs"):
            (self._folder / part).mkdir(parents=True, exist_ok=True)
        (self._folder / "status").touch()
        (self._folder / "sources" / "demo.sources").write_text(write_deb822(sources), "utf-8")

    def _run(self, words: list[str], seconds: int, cwd: Path) -> tuple[int, str]:
        root = self._folder
        settings = {
            "Dir::State": root / "state",
            "Dir::State::status": root / "status",
            "Dir::Cache": root / "cache",
            "Dir::Etc::sourcelist": "/dev/null",
            "Dir::Etc::sourceparts": root / "sources",
            "Acquire::Languages": "none",
            "Acquire::Retries": "3",
            "Acquire::http::Timeout": "30",
            "Acquire::https::Timeout": "30",
            # The cache lies in the person's home, which apt's download user may not enter.
            "APT::Sandbox::User": "root",
        }
        options = [word for key, value in settings.items() for word in ("-o", f"{key}={value}")]
        command = ["apt-get", "-q", *options, *words]
        env = {**os.environ, "LC_ALL": "C.UTF-8"}
        try:
            done = subprocess.run(
                command, cwd=cwd, env=env, capture_output=True, text=True, timeout=seconds
            )
        except subprocess.TimeoutExpired:
            return 1, f"apt took longer than {seconds // 60} minutes."
        complaints = [
            line for line in done.stderr.splitlines() if line.startswith(("E:", "W:", "Err:"))
        ]
        return done.returncode, "; ".join(dict.fromkeys(complaints))


def extract_files(deb: Path, wanted: Iterable[str], target: Path) -> tuple[str, ...]:
    """Unpack only the ``wanted`` paths of ``deb`` below ``target``; give those that were in it.

    Raises UserError when the package cannot be read.
    """
    names = set(wanted)
    found = []
    process = subprocess.Popen(["dpkg-deb", "--fsys-tarfile", deb], stdout=subprocess.PIPE)
    with process:
        try:
            with tarfile.open(fileobj=process.stdout, mode="r|") as archive:
                for member in archive:
                    name = member.name.removeprefix("./")
                    source = archive.extractfile(member) if name in names else None
                    if source is None:
                        continue
                    path = target / name
                    path.parent.mkdir(parents=True, exist_ok=True)
                    path.write_bytes(source.read())
                    found.append(name)
        except tarfile.TarError as error:
            raise UserError(f"The package cannot be read: {error}", where=deb.name) from error
    return tuple(found)


def _wanted_sources(machine: tuple[AptSource, ...]) -> tuple[AptSource, ...]:
    """Give the suites with the photographs on a Debian mirror, else the machine's own sources."""
    for source in machine:
        if "main" in source.components and _DEBIAN_NAMES.intersection(source.suites):
            return (replace(source, suites=DEBIAN_SUITES, components=("main",)),)
    # Update suites ("…-updates") hold none of the pictures and cost a list each.
    plain = (replace(s, suites=tuple(n for n in s.suites if "-" not in n)) for s in machine)
    return tuple(dict.fromkeys(s for s in plain if s.suites and s.components))
