"""A book's folder: where its files lie, and how they are read and replaced without ever tearing."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from wayfold.base.disk import explain_refusal
from wayfold.base.errors import NotFoundError
from wayfold.base.mends import Mend
from wayfold.typeset.replacing import replace_file

EXTRACT_ENDINGS = (".osm.pbf", ".pbf", ".osm", ".osm.gz", ".osm.bz2")
PART = ".part"
"""How files end that are not yet whole."""
UNDER_WAY_S = 3600.0
"""Nothing is so long in being written to one file."""
KILOBYTE, MEGABYTE = 1000, 1_000_000


@dataclass(frozen=True, slots=True)
class BookFolder:
    """The places inside a book's folder."""

    root: Path

    @property
    def book_file(self) -> Path:
        """Title, page, paper, printer, binding, chapters."""
        return self.root / "book.toml"

    @property
    def materials_file(self) -> Path:
        """The person's own papers, printers and materials, by name."""
        return self.root / "materials.toml"

    @property
    def photos_file(self) -> Path:
        """What the person decided on single photographs."""
        return self.root / "photos.toml"

    @property
    def trip_file(self) -> Path:
        """What the person says of the journey."""
        return self.root / "trip.toml"

    @property
    def calendars(self) -> Path:
        """Calendar files (.ics) with the journey's bookings."""
        return self.root / "calendars"

    def list_calendars(self) -> tuple[Path, ...]:
        """Give the calendar files there are, in the folder for them or beside book.toml."""
        found = [*self.calendars.glob("*.[iI][cC][sS]"), *self.root.glob("*.[iI][cC][sS]")]
        return tuple(sorted(path for path in found if path.is_file()))

    @property
    def plan_file(self) -> Path:
        """The planner's last answer."""
        return self.root / "plan.lock.toml"

    @property
    def ledger_file(self) -> Path:
        """Which sheets lie printed, and what is on them."""
        return self.root / "printed.lock.toml"

    @property
    def bench_file(self) -> Path:
        """What is done of the work with the hands."""
        return self.root / "bench.lock.toml"

    @property
    def texts(self) -> Path:
        """The book's texts, one Markdown file each."""
        return self.root / "texts"

    def list_decisions(self) -> tuple[Path, ...]:
        """Give the files that hold what the person decided, and the plan made of it."""
        single = (
            self.book_file,
            self.photos_file,
            self.trip_file,
            self.materials_file,
            self.plan_file,
        )
        many = [*self.texts.glob("*.md"), *self.styles.glob("*/style.toml")]
        return tuple(sorted(path for path in (*single, *many) if path.is_file()))

    @property
    def styles(self) -> Path:
        """The person's own styles, a folder each."""
        return self.root / "styles"

    @property
    def fonts(self) -> Path:
        """The person's own fonts."""
        return self.root / "fonts"

    @property
    def out(self) -> Path:
        """What Wayfold makes."""
        return self.root / "out"

    @property
    def private(self) -> Path:
        """Wayfold's own notes."""
        return self.root / ".wayfold"

    @property
    def cache(self) -> Path:
        """What can be worked out again; may be deleted at any time."""
        return self.private / "cache"

    @property
    def made_file(self) -> Path:
        """What the last make was made from, and what it gave."""
        return self.cache / "made.json"

    def list_tracks(self) -> list[Path]:
        """Give the recorded tracks of the journey: GPX files in the folder ``tracks``."""
        return sorted(p for p in (self.root / "tracks").rglob("*") if p.suffix.lower() == ".gpx")

    def list_extracts(self) -> tuple[Path, ...]:
        """Give the street data for city maps: OpenStreetMap extracts in the folder ``streets``."""
        found = (self.root / "streets").rglob("*")
        return tuple(sorted(p for p in found if p.name.lower().endswith(EXTRACT_ENDINGS)))

    def photo_folders(self, names: Iterable[str]) -> tuple[Path, ...]:
        """Where the book's pictures are looked for; relative names lie in the book's folder."""
        return tuple(self.root / name for name in names)

    def require(self) -> None:
        """Raise NotFoundError unless a book lies here."""
        if not self.root.is_dir():
            raise NotFoundError(
                "The book's folder is not there (any more).",
                where=str(self.root),
                remedy="Connect the drive that it lies on, or put the folder back, then try again.",
            )
        if not self.book_file.is_file():
            raise NotFoundError(
                "There is no book in this folder: it has no book.toml.",
                where=str(self.root),
                remedy=f"Start one: {Mend.NEW}.",
            )

    def name_of(self, path: Path) -> str:
        """How messages call a file: relative to the book where it lies inside."""
        return (
            path.relative_to(self.root).as_posix() if path.is_relative_to(self.root) else str(path)
        )


@contextlib.contextmanager
def explain_os_errors(path: Path, needed: int | None = None) -> Iterator[None]:
    """Turn what a disk refuses into a UserError that says what to do.

    ``needed`` is how many bytes were to be written to ``path``, where that is known.
    """
    try:
        yield
    except OSError as error:
        where = str(error.filename or path)
        told = explain_refusal(error, where, _tell_room(path, needed))
        if told is None:
            raise
        raise told from error


def _tell_room(path: Path, needed: int | None) -> str:
    if needed is None:
        return ""
    there = next((folder for folder in path.parents if folder.is_dir()), None)
    if there is None:
        return ""
    try:
        free = shutil.disk_usage(there).free
    except OSError:
        return ""
    return f"{tell_bytes(needed)} are to be written, and {tell_bytes(free)} are free."


def tell_bytes(count: int) -> str:
    """Say how much room something takes, rounded up: 1 kB, 12 kB, 3.4 MB."""
    if count < MEGABYTE:
        return f"{-(-count // KILOBYTE)} kB"
    return f"{-(-10 * count // MEGABYTE) / 10:.1f} MB"


def write_whole(path: Path, data: bytes, *, lasting: bool = True) -> None:
    """Replace ``path`` by ``data`` wholly or not at all, and make the folder for it if needed.

    Once this returns the new file outlasts a power cut; where it need not be ``lasting``, either
    the old or the new one does. Raises UserError when the disk is full or the place cannot be
    written to.
    """
    with explain_os_errors(path, len(data)):
        temporary = stage_file(path, data)
        try:
            replace_file(temporary, path)
        except BaseException:
            temporary.unlink(missing_ok=True)
            raise
        if lasting:
            sync_folder(path.parent)


def stage_file(path: Path, data: bytes, ending: str = PART) -> Path:
    """Write ``data`` beside ``path``, to the disk itself, to take its name later; give where.

    The folder is made if needed. Where that fails nothing is left.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=ending, dir=path.parent)
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        # mkstemp makes the file private; a book's files are as open as the person's others.
        temporary.chmod(0o666 & ~_umask())
    except BaseException:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    return temporary


def sweep_parts(folders: Iterable[Path]) -> None:
    """Take away what programs that ended in the middle of a file left in ``folders``.

    A file that was begun within the hour may still be under way, and stays.
    """
    for folder in folders:
        with contextlib.suppress(OSError):
            for path in folder.glob(f".*{PART}"):
                with contextlib.suppress(OSError):
                    if _is_given_up(path):
                        path.unlink()


def sweep_scratch(folders: Iterable[Path]) -> None:
    """Take away folders for the while of some work whose program ended in the middle of it."""
    for folder in folders:
        with contextlib.suppress(OSError):
            if _is_given_up(folder):
                shutil.rmtree(folder, ignore_errors=True)


def _is_given_up(path: Path) -> bool:
    return path.stat().st_mtime < time.time() - UNDER_WAY_S


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def sync_folder(folder: Path) -> None:
    """See to it that the names in a folder outlast a power cut."""
    if os.name != "posix":
        return  # other systems do not open folders
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
