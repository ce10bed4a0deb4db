"""A spread of every style: on the book's page, in the style's own fonts."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from pypdf import PdfReader

from wayfold.base.errors import UserError
from wayfold.base.progress import NoProgress
from wayfold.base.units import mm_from_pt
from wayfold.cli.main import run
from wayfold.demo.specimen import FOOT, show_styles


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("book")
    page = "[page]\nwidth_mm = 148\nheight_mm = 210\n"
    (root / "book.toml").write_text(f'version = 1\n[book]\ntitle = "T"\n{page}', "utf-8")
    own = root / "styles" / "moor" / "style.toml"
    own.parent.mkdir(parents=True)
    own.write_text('version = 1\nabout = "Ours."\nserif = "Alegreya"\n', "utf-8")
    return root


def list_fonts(page) -> set[str]:
    """Families of a PDF page: BaseFont without its subset tag (ISO 32000-2, 9.9.2)."""
    placed, found = [page], set()
    while placed:
        resources = placed.pop().get("/Resources", {})
        for font in resources.get("/Font", {}).values():
            found.add(font.get_object()["/BaseFont"].split("+")[-1].split("-")[0])
        placed += [form.get_object() for form in resources.get("/XObject", {}).values()]
    return found


def test_every_style_has_a_spread_in_its_own_type(book):
    shown = show_styles(book, NoProgress())
    assert shown.file == book.resolve() / "out" / "styles.pdf"
    pages = PdfReader(shown.file).pages
    assert [e.style.name for e in shown.entries] == ["garden", "hearth", "shore", "moor"]
    assert len(pages) == len(shown.entries)
    for page, entry in zip(pages, shown.entries, strict=True):
        size = [mm_from_pt(float(v)) for v in (page.mediabox.width, page.mediabox.height)]
        assert size == pytest.approx([2 * 148, 210 + FOOT], abs=0.1)
        serif, sans = (f.replace(" ", "") for f in (entry.style.serif, entry.style.sans))
        assert list_fonts(page) == {serif, sans}
        assert entry.style.name in page.extract_text()


def test_without_a_book_the_shipped_ones_are_listed(tmp_path, capsys):
    assert run(["styles", str(tmp_path), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [style["name"] for style in told["styles"]] == ["garden", "hearth", "shore"]
    assert Path(told["file"]) == tmp_path.resolve() / "styles.pdf"
    page = PdfReader(told["file"]).pages[0]
    # ISO 216: A4 is 210 x 297 mm.
    assert mm_from_pt(float(page.mediabox.width)) == pytest.approx(420, abs=0.1)


def test_a_style_without_its_family_is_named(book):
    odd = book / "styles" / "odd"
    odd.mkdir()
    (odd / "style.toml").write_text('version = 1\nabout = "A"\nsans = "Nowhere"\n', "utf-8")
    with pytest.raises(UserError) as caught:
        show_styles(book, NoProgress())
    assert caught.value.where == "styles/odd/style.toml, sans"


def test_a_new_book_takes_a_style_by_name(tmp_path, capsys):
    assert run(["new", str(tmp_path / "a"), "--style", "hearth"]) == 0
    assert 'style = "hearth"' in (tmp_path / "a" / "book.toml").read_text("utf-8")
    assert run(["new", str(tmp_path / "b"), "--style", "heart"]) == 2
    assert "Did you mean hearth?" in capsys.readouterr().err
    assert not (tmp_path / "b").exists()
