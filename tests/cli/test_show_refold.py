"""What ``wayfold refold`` says in the terminal. Our own wording."""

import pytest

from wayfold.base.geometry import Size
from wayfold.checks.refold.folding import Folding
from wayfold.checks.refold.report import LeafReading, PageReading, RefoldReport
from wayfold.cli.show import show_refold

FOLDING = Folding(Size(210, 297), Size(483, 329), (1,))
PAGE = PageReading(1, 1, 0, False, 0.01, -0.02, 0.03, 1.0, 1.0, True, "right, within 0.03 mm")


def test_leaves_are_listed_after_the_pages(capsys: pytest.CaptureFixture[str]) -> None:
    leaves = (
        LeafReading(2, "recto", 0.25, False, "lies 0.25 mm off its place"),
        LeafReading(2, "verso", None, True, "right"),
    )
    show_refold(RefoldReport(FOLDING, 0.1, (PAGE,), (), leaves))
    lines = capsys.readouterr().out.splitlines()
    assert lines[2:5] == [
        "leaf after page  face      off by   what was read",
        "              2  recto    0.250 mm  lies 0.25 mm off its place",
        "              2  verso        – mm  right",
    ]
    assert "does NOT fold into the book" in lines[-1]
    assert "largest offset 0.250 mm" in lines[-1]


def test_a_book_without_leaves_says_nothing_of_them(capsys: pytest.CaptureFixture[str]) -> None:
    show_refold(RefoldReport(FOLDING, 0.1, (PAGE,), ()))
    out = capsys.readouterr().out
    assert "leaf" not in out
    assert "The print file folds into the book" in out
