"""Soft proofs: the pages of the reading file as the person's printer will have them."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.findings import Finding, Severity
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.base.units import px_from_mm
from wayfold.checks.soft_proof import HEAVY, INK_LIMIT, LOST, PrinterProfile, SoftProof
from wayfold.checks.view_page import count_pages, view_page
from wayfold.disk.placing import write_whole
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book

FOLDER = "proof"
PROOF_PPI = 110.0


@dataclass(frozen=True, slots=True)
class ProvenPage:
    """A page (from 1, in the order of the reading file), its files and what was measured."""

    page: int
    shown: str
    difference: str
    lost: float
    worst: float
    ink: float | None
    heavy: float | None

    @property
    def findings(self) -> Iterator[Finding]:
        """What of the page will disappoint."""
        where = f"page {self.page} of reading.pdf"
        if self.lost > LOST:
            yield Finding(
                "out-of-gamut",
                Severity.NOTE,
                where,
                f"{self.lost:.0%} of it has colours that this printer and paper cannot reach.",
                f"Look at {self.difference}; a print of that part tells whether it matters.",
            )
        if self.heavy is not None and self.heavy > HEAVY:
            yield Finding(
                "ink-heavy",
                Severity.WARN,
                where,
                f"{self.heavy:.0%} of it takes more than {INK_LIMIT:.0f} % of ink.",
                "Let it dry for a day under plain paper, or lighten the picture.",
            )


def prove_book(root: Path, page: int | None, progress: Progress) -> tuple[ProvenPage, ...]:
    """Write the soft proofs of all pages, or of one, into out/proof.

    Raises NotFoundError where the book is not made or has no such page, UserError for a profile
    that is missing or no use.
    """
    folder = BookFolder(root.resolve())
    book = load_book(folder).book
    if not book.printer.profile:
        raise UserError(
            "No colour profile is named.",
            where=f"{folder.name_of(folder.book_file)}: [printer] profile",
            remedy="Put the ICC profile for your printer and paper into the book's folder, and "
            'write profile = "its-name.icc".',
        )
    profile = PrinterProfile.read(folder.root / book.printer.profile)
    reading = folder.out / "reading.pdf"
    if not reading.is_file():
        raise NotFoundError(
            "The book has not been made yet.",
            where=folder.name_of(reading),
            remedy=f"Make it first: {Mend.MAKE}.",
        )
    target = folder.out / FOLDER
    with explain_os_errors(target):
        target.mkdir(parents=True, exist_ok=True)
        return tuple(_prove_pages(folder, profile, reading, target, page, progress))


def _prove_pages(
    folder: BookFolder,
    profile: PrinterProfile,
    reading: Path,
    target: Path,
    only: int | None,
    progress: Progress,
) -> Iterator[ProvenPage]:
    count = count_pages(reading)
    if only is not None and not 1 <= only <= count:
        raise NotFoundError(
            f"The reading file has no page {only}.", remedy=f"Name one from 1 to {count}."
        )
    numbers = [only] if only is not None else list(range(1, count + 1))
    with progress.task("Proving the pages", len(numbers)) as task:
        for number in numbers:
            proof = profile.prove(view_page(reading, number, px_from_mm(1.0, PROOF_PPI)))
            yield _write(folder, proof, target, number)
            task.advance()


def _write(folder: BookFolder, proof: SoftProof, target: Path, number: int) -> ProvenPage:
    shown, difference = target / f"page-{number:03}.png", target / f"page-{number:03}-lost.png"
    for path, picture in ((shown, proof.shown), (difference, proof.difference)):
        file = io.BytesIO()
        picture.save(file, "PNG")
        write_whole(path, file.getvalue(), lasting=False)
    names = folder.name_of(shown), folder.name_of(difference)
    return ProvenPage(number, *names, proof.lost, proof.worst, proof.ink, proof.heavy)
