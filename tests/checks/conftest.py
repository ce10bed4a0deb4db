from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks import imposer
from tests.checks.imposer import Side
from wayfold.base.geometry import Size
from wayfold.base.progress import NoProgress
from wayfold.checks.refold.fold import refold
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.report import RefoldReport

Prove = Callable[..., RefoldReport]


@pytest.fixture(scope="session")
def folding() -> Folding:
    """A small book of three gatherings; the paper is thick, so that creep is plain to see."""
    return Folding(Size(105, 148), Size(240, 170), (2, 3, 1), caliper_um=250, creep_coefficient=1.2)


@pytest.fixture(scope="session")
def book(folding: Folding) -> list[str]:
    return imposer.draw_book(folding.pages, folding.trim, folding.bleed)


@pytest.fixture(scope="session")
def reading(book: list[str], folding: Folding, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("reading") / "reading.pdf"
    return imposer.write_reading(path, book, folding)


@pytest.fixture
def prove(folding: Folding, book: list[str], reading: Path, tmp_path: Path) -> Prove:
    """Write the given sides and refold them against the right book."""

    def run(
        sides: list[Side], contents: list[str] | None = None, as_described: Folding | None = None
    ) -> RefoldReport:
        sheets = imposer.write_sheets(tmp_path / "sheets.pdf", sides, contents or book, folding)
        return refold(sheets, as_described or replace(folding), reading, NoProgress(), workers=1)

    return run
