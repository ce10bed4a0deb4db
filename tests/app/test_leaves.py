"""A book with translucent leaves: made, folded back, and wrong files of leaves caught."""

import json
from pathlib import Path

import pikepdf
import pytest

from wayfold.app.make import make_book
from wayfold.app.refold import refold_folder
from wayfold.base.progress import NoProgress


@pytest.fixture
def veiled(book: Path) -> Path:
    """The small book, its chapters opening behind translucent leaves."""
    path = book / "book.toml"
    wishes = "".join(
        f'\n[[chapter]]\nplace = "{p}"\ninterleaf = true\n' for p in ("Lisbon", "Porto")
    )
    path.write_text(path.read_text("utf-8") + wishes, "utf-8")
    make_book(book, NoProgress())
    plan = json.loads((book / "out" / "plan.json").read_text("utf-8"))
    assert plan["interleaves"]
    return book


def test_the_leaves_fall_where_the_plan_says(veiled: Path) -> None:
    report = refold_folder(veiled, NoProgress())
    assert report.ok, [f.message for f in report.findings]


@pytest.mark.parametrize("fault", ["turned", "exchanged", "blank"])
def test_wrong_leaves_are_caught(veiled: Path, fault: str) -> None:
    path = veiled / "out" / "interleaves.pdf"
    with pikepdf.open(path, allow_overwriting_input=True) as pdf:
        if fault == "turned":
            for page in pdf.pages:
                page.rotate(180, relative=True)
        elif fault == "exchanged":
            pdf.pages.reverse()  # fronts for backs, and the last sheet first
        else:
            for page in pdf.pages:
                page.Contents = pdf.make_stream(b"")
        pdf.save(path)
    report = refold_folder(veiled, NoProgress())
    assert not report.ok
    assert report.findings
