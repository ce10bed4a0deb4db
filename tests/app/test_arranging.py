"""Other ways to lay a spread, shown and chosen from the command line."""

import json
from pathlib import Path

import pikepdf
import pytest

from wayfold.app.stages import run_stages
from wayfold.base.progress import NoProgress
from wayfold.cli.main import run
from wayfold.layout.arrange import list_alternatives
from wayfold.project.files import BookFolder
from wayfold.typeset.engine import Typesetter


def find_page(root: Path) -> int:
    """Give a page whose pictures could lie in several ways."""
    blocks = run_stages(BookFolder(root), Typesetter(), NoProgress()).blocks
    pages = (m.numbers[0] for m in blocks.matters if m.block.id in blocks.ways)
    return next(page for page in pages if len(list_alternatives(blocks, page, 2)) == 2)


def test_ways_are_shown_and_one_is_taken_and_given_back(
    book: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page = find_page(book)
    capsys.readouterr()
    assert run(["arrange", str(page), str(book), "--json"]) == 0
    view = json.loads(capsys.readouterr().out)
    assert page in view["pages"]
    assert all(way != view["now"] for way in view["ways"])
    assert len({json.dumps(way) for way in view["ways"]}) == len(view["ways"]) >= 2
    with pikepdf.open(view["file"]) as sheet:
        assert len(sheet.pages) == 1
    assert run(["arrange", str(page), str(book), "--choose", "2"]) == 0
    capsys.readouterr()
    run(["arrange", str(page), str(book), "--json"])
    assert json.loads(capsys.readouterr().out)["now"] == view["ways"][1]
    assert run(["arrange", str(page), str(book), "--choose", "0"]) == 0
    capsys.readouterr()
    run(["arrange", str(page), str(book), "--json"])
    assert json.loads(capsys.readouterr().out)["now"] == view["now"]


@pytest.mark.parametrize(("page", "words"), [("999", "no page 999"), ("1", "no pictures")])
def test_a_page_without_ways_is_told(
    book: Path, page: str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["arrange", page, str(book)]) == 2
    assert words in capsys.readouterr().err
