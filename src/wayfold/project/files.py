"""A book's folder: where its files lie."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from wayfold.base.errors import NotFoundError
from wayfold.base.mends import Mend
from wayfold.disk.placing import write_passing, write_whole

EXTRACT_ENDINGS = (".osm.pbf", ".pbf", ".osm", ".osm.gz", ".osm.bz2")


@dataclass(frozen=True, slots=True)
class BookFolder:
    """The places inside a book's folder, or in a draft of it, which is taken away in the end."""

    root: Path
    is_draft: bool = False

    def write(self, path: Path, data: bytes) -> None:
        """Write one of its files whole, for good where this is no draft.

        Raises UserError where the disk refuses.
        """
        if self.is_draft:
            write_passing(path, data)
        else:
            write_whole(path, data)

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
