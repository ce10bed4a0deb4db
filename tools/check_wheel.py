"""Build the sdist and the wheel, install each into clean environments, and make a book with them.

Run through ``make wheel-check``. Nothing of the checkout is within reach of what is tried: it is
installed as anyone would, by pip, and run in an empty folder. Takes minutes.
"""

import argparse
import http.cookiejar
import json
import os
import re
import subprocess
import sys
import tarfile
import tempfile
import time
import urllib.error
import urllib.request
import venv
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from tests.desk_book import paint_journey  # noqa: E402
from tools.licences import read_installed, tell_components  # noqa: E402

MOST_MB = 440
"""What a default installation may take on the disk. It should be 400; docs/building.md says what
stands in the way."""
FEWEST_PACKAGES = 40
INSTALLER = ("pip", "setuptools")
MADE = ("reading.pdf", "sheets.pdf", "plan.pdf", "bench.pdf")
START_S = 60


@dataclass(frozen=True, slots=True)
class Installed:
    """An environment with Wayfold in it, and an empty folder to work in."""

    folder: Path
    work: Path

    @property
    def python(self) -> Path:
        return self._scripts / ("python.exe" if os.name == "nt" else "python")

    @property
    def wayfold(self) -> Path:
        return self._scripts / ("wayfold.exe" if os.name == "nt" else "wayfold")

    @property
    def _scripts(self) -> Path:
        return self.folder / ("Scripts" if os.name == "nt" else "bin")

    @property
    def surroundings(self) -> dict[str, str]:
        """What it is run with: a home of its own besides."""
        return leave_checkout() | {"HOME": str(self.work), "USERPROFILE": str(self.work)}

    def run(self, *arguments: str, expected: tuple[int, ...] = (0,)) -> str:
        """Run ``wayfold``; any other exit code than those expected is a failure."""
        done = subprocess.run(
            [self.wayfold, *arguments],
            cwd=self.work, env=self.surroundings, capture_output=True, encoding="utf-8",
        )  # fmt: skip
        if done.returncode not in expected:
            raise SystemExit(
                f"wayfold {' '.join(arguments)} gave {done.returncode}:\n{done.stdout}{done.stderr}"
            )
        return done.stdout


def leave_checkout() -> dict[str, str]:
    """The variables of this process, without those that lead to a checkout."""
    return {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "VIRTUAL_ENV")}


def build(dist: Path) -> tuple[Path, Path]:
    """Build both; gives the wheel and the sdist."""
    for old in (*dist.glob("wayfold-*.whl"), *dist.glob("wayfold-*.tar.gz")):
        old.unlink()
    command = [sys.executable, "-m", "hatchling", "build", "-d", str(dist), "-t", "sdist"]
    subprocess.run([*command, "-t", "wheel"], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    return next(dist.glob("wayfold-*.whl")), next(dist.glob("wayfold-*.tar.gz"))


def check_contents(wheel: Path, sdist: Path) -> None:
    """What must be inside is, and what must not is not."""
    names = zipfile.ZipFile(wheel).namelist()
    for pattern in (
        r"wayfold/desk/static/index\.html",
        r"wayfold/desk/static/front/.+\.js",
        r"wayfold/typeset/fonts/.+\.ttf",
        r"wayfold/typeset/template\.typ",
        r"wayfold/maps/flags/pt\.svg",
        r"wayfold/trip/gazetteer/geocode\.gz",
        r"wayfold/project/styles/.+",
        r"wayfold/py\.typed",
        r".+\.dist-info/licenses/LICENSE",
    ):
        require(any(re.fullmatch(pattern, name) for name in names), f"the wheel lacks {pattern}")
    odd = [n for n in names if not re.match(r"wayfold/|wayfold-[^/]+\.dist-info/", n)]
    require(not odd, f"the wheel has files that are none of the package: {odd[:5]}")
    # Two names that differ by capitals only would be one file on Windows and macOS.
    folded = [name.casefold() for name in names]
    require(len(set(folded)) == len(folded), "two files of the wheel differ by capitals only")
    with tarfile.open(sdist) as archive:
        inside = [name.partition("/")[2] for name in archive.getnames()]
    require("hatch_build.py" in inside and "desk-ui/package-lock.json" in inside, "sdist is short")
    made = [n for n in inside if re.search(r"node_modules|desk/static|/fonts/|flags/", n)]
    require(not made, f"the sdist has what the build makes: {made[:5]}")


def require(holds: bool, fault: str) -> None:
    if not holds:
        raise SystemExit(f"FAILED: {fault}")


@contextmanager
def install(what: str) -> Iterator[Installed]:
    """A clean environment with ``what`` in it, as a person's pip would install it."""
    with tempfile.TemporaryDirectory(prefix="wayfold-check-") as scratch:
        # A space and an accent, as in many a person's home.
        home = Path(scratch) / "Ma reliure é"
        folder, work = home / "env", home / "books"
        work.mkdir(parents=True)
        venv.create(folder, with_pip=True)
        installed = Installed(folder, work)
        command = [str(installed.python), "-m", "pip", "install", "--quiet", what]
        began = time.monotonic()
        subprocess.run(command, cwd=work, env=leave_checkout(), check=True)
        print(f"  installed in {time.monotonic() - began:.0f} s", flush=True)
        yield installed


def check_commands(installed: Installed, version: str) -> None:
    """Help, version, and the doctor, who must find that all works."""
    require("wayfold" in installed.run("--help"), "no help")
    require(version in installed.run("--version"), "another version")
    report = json.loads(installed.run("doctor", "--json", expected=(0, 2)))
    for one in report["tried"]:
        if one["standing"] != "works":
            print(f"  {one['standing']}: {one['group']}, {one['name']}: {one['what']}")
    require(report["ok"], "the doctor finds something that does not work")


def check_book(installed: Installed) -> None:
    """A small book from photographs to sheets, folded back on screen."""
    paint_journey(installed.work / "Photos")
    installed.run("new", "book", "--title", "Four Days by the Sea", "--photographs", "Photos")
    began = time.monotonic()
    # 1: the book has findings that should stop the printing. A book of painted squares may.
    installed.run("make", "book", expected=(0, 1))
    print(f"  a book was made in {time.monotonic() - began:.0f} s", flush=True)
    for name in MADE:
        made = installed.work / "book" / "out" / name
        require(made.is_file() and made.read_bytes().startswith(b"%PDF-"), f"no {name}")
    installed.run("refold", "book")
    require(json.loads(installed.run("doctor", "book", "--json"))["ok"], "the book is not well")


def check_desk(installed: Installed) -> None:
    """The desk opens the book, and serves its page, its scripts and its styles."""
    desk = subprocess.Popen(
        [installed.wayfold, "desk", "book", "--no-open"],
        cwd=installed.work, env=installed.surroundings | {"PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE, encoding="utf-8",
    )  # fmt: skip
    try:
        assert desk.stdout is not None
        address = desk.stdout.readline().strip()
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        client = urllib.request.build_opener(urllib.request.ProxyHandler({}), jar)
        page = client.open(address, timeout=20).read().decode()
        base = address.partition("?")[0]
        parts = re.findall(r'(?:src|href)="\./([^"]+\.(?:js|css))"', page)
        require(len(parts) >= 2, "the desk's page names no script and style")
        for part in parts:
            answer = client.open(base + part, timeout=20)
            kind = "text/javascript" if part.endswith(".js") else "text/css"
            require(answer.headers["content-type"].startswith(kind), f"{part} is no {kind}")
        wait_for_book(client, base)
    finally:
        desk.terminate()
        desk.wait(20)


def wait_for_book(client: urllib.request.OpenerDirector, base: str) -> None:
    """Wait until the book lies open and its first page can be seen."""
    ends = time.monotonic() + START_S
    while time.monotonic() < ends:
        try:
            require(b"<svg" in client.open(f"{base}pages/1.svg", timeout=20).read(), "no page")
            return
        except urllib.error.HTTPError as error:
            require(error.code == 404, f"page 1 gave {error.code}")
            time.sleep(0.5)
    raise SystemExit("FAILED: the desk did not open the book")


def tell_sizes(installed: Installed) -> float:
    """List what each package takes on the disk and its licences; gives the whole in MB."""
    command = "import json, sysconfig; print(json.dumps(sysconfig.get_paths()))"
    said = json.loads(
        subprocess.run([installed.python, "-c", command], capture_output=True, check=True).stdout
    )
    folders = dict.fromkeys((said["purelib"], said["platlib"]))
    found = [one for one in read_installed(folders) if one.name not in INSTALLER]
    require(len(found) > FEWEST_PACKAGES, "the packages that were installed are not found")
    found.sort(key=lambda one: -one.size_bytes)
    print("\n".join(f"  {line}" for line in tell_components(found)))
    require(not any(one.faults for one in found), "a licence is refused")
    return sum(one.size_bytes for one in found) / 1e6


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--dist", type=Path, default=ROOT / "dist")
    parser.add_argument("--build-only", action="store_true", help="Only build, and look inside.")
    asked = parser.parse_args()
    asked.dist.mkdir(exist_ok=True)
    wheel, sdist = build(asked.dist.resolve())
    check_contents(wheel, sdist)
    for made in (wheel, sdist):
        print(f"{made.name}: {made.stat().st_size / 1e6:.1f} MB", flush=True)
    if asked.build_only:
        return 0
    version = wheel.name.split("-")[1]
    print("The wheel alone:")
    with install(str(wheel)) as installed:
        size_mb = tell_sizes(installed)
        check_commands(installed, version)
        check_book(installed)
        check_desk(installed)
    print("The wheel with its extras, raw and coasts:")
    with install(f"{wheel}[raw,coasts]") as installed:
        print(f"  {tell_sizes(installed):.0f} MB")
        check_commands(installed, version)
        check_book(installed)
    print("The sdist, built anew by pip:")
    with install(str(sdist)) as installed:
        check_commands(installed, version)
        check_desk_is_there(installed)
    print(f"A default installation takes {size_mb:.0f} MB; it may take {MOST_MB}.")
    require(size_mb <= MOST_MB, "that is too much")
    print("The wheel and the sdist are sound.")
    return 0


def check_desk_is_there(installed: Installed) -> None:
    """A book is begun, and the desk serves it."""
    paint_journey(installed.work / "Photos")
    installed.run("new", "book", "--title", "Four Days", "--photographs", "Photos")
    check_desk(installed)


if __name__ == "__main__":
    raise SystemExit(main())
