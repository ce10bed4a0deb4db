"""Setting up by answers: what is written, what is asked about, what is refused."""

import json
import tomllib
from pathlib import Path

import pypdf
import pytest

from wayfold.app.setup import (
    answer_questions,
    list_materials,
    list_questions,
    make_measuring_sheet,
)
from wayfold.base.errors import UserError
from wayfold.book.materials import Duplex, Grain, Source
from wayfold.cli.main import run
from wayfold.project.files import BookFolder
from wayfold.project.store import load_book


def load(book: Path):
    return load_book(BookFolder(book)).book


def rules(done) -> dict[str, str]:
    return {finding.rule: finding.severity.value for finding in done.findings}


def test_ten_leaves_and_ten_turns_become_what_one_has(book: Path) -> None:
    """190 g/m2 matte at a bulk of 1.25 cm3/g is 0.2375 mm thick (ISO 534: bulk = um / (g/m2))."""
    done = answer_questions(
        book,
        {
            "paper.ten_leaves_mm": "2,38",
            "paper.grammage_gsm": 190,
            "paper.grain": "short",
            "sewing.ten_turns_mm": 5.3,
            "printer.duplex": "manual",
        },
    )
    assert done.written
    assert done.findings == ()
    now = load(book)
    assert now.paper.caliper_um == pytest.approx(238.0)
    assert now.paper.caliper_source is Source.MEASURED
    assert now.paper.grain is Grain.SHORT
    # 25/3 linen is about 0.53 mm (derived from its lea number at 0.9 g/cm3).
    assert now.bench.sewing.thread == pytest.approx(0.53)
    assert now.printer.duplex is Duplex.MANUAL


def test_a_named_paper_replaces_what_stood_there(book: Path) -> None:
    comment = "# my own words\n"
    path = book / "book.toml"
    path.write_text(comment + path.read_text(encoding="utf-8"), encoding="utf-8")
    done = answer_questions(book, {"paper.use": "matte-190-from-24in-roll"})
    assert done.written
    paper = load(book).paper
    assert (paper.grain, paper.caliper_um) == (Grain.SHORT, 240.0)
    assert paper.caliper_source is Source.ESTIMATED
    assert path.read_text(encoding="utf-8").startswith(comment)
    # A key in the table goes before the entry.
    answer_questions(book, {"paper.ten_leaves_mm": 2.5})
    assert load(book).paper.caliper_um == 250.0
    assert load(book).paper.caliper_source is Source.MEASURED


# The questions a binder would ask back. 19 x 13 in is 482.6 x 330.2 mm; 0.2 in are 5.1 mm.
@pytest.mark.parametrize(
    ("answers", "rule", "said", "blocks"),
    [
        ({"paper.sheet_mm": "19 x 13"}, "unit", "482.6 × 330.2", True),
        ({"paper.sheet_mm": [48.3, 32.9]}, "unit", "483 × 329", True),
        ({"translucent.sheet_mm": "19x13"}, "unit", "482.6", True),
        ({"paper.sheet_mm": "483 x 3290"}, "impossible-sheet", "no printer", True),
        ({"paper.sheet_mm": "483 x 20"}, "impossible-sheet", "no printer", True),
        ({"paper.ten_leaves_mm": 0.24}, "caliper", "write 240", True),  # one leaf, not ten
        ({"paper.ten_leaves_mm": 19}, "caliper", "write 190", True),
        ({"translucent.ten_leaves_mm": 9}, "caliper", "write 90", True),
        ({"paper.grammage_gsm": 2}, "unusual-measure", "no paper", True),
        ({"paper.sheet_mm": "420 x 297"}, "printable-area", "do not fit", True),
        ({"printer.margin_head_mm": 40}, "printable-area", "do not fit", True),
        ({"printer.margin_left_mm": 0.2}, "unit", "5.1", False),
        ({"paper.grain": "unknown"}, "grain", "not known", False),
        ({"paper.grain": "long"}, "grain", "from a roll, 329 mm", False),
        ({"sewing.ten_turns_mm": 0.2}, "unit", "inches", True),
    ],
)
def test_doubtful_answers_are_asked_about(
    book: Path, answers: dict, rule: str, said: str, blocks: bool
) -> None:
    before = (book / "book.toml").read_bytes()
    done = answer_questions(book, answers)
    (found, *_) = [f for f in done.findings if f.rule == rule]
    assert said in f"{found.message} {found.remedy}"
    assert (found.severity.value == "block") is blocks
    assert done.written is not blocks
    if blocks:
        assert (book / "book.toml").read_bytes() == before
        assert answer_questions(book, answers, anyway=True).written


def test_short_grain_a3plus_is_not_questioned(book: Path) -> None:
    """Two A4 pages side by side fold parallel to the short side of the sheet (geometry)."""
    assert rules(answer_questions(book, {"paper.grain": "short"})) == {}


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({"paper.colour": "blue"}, "no question"),
        ({"paper.grain": "sideways"}, "no answer"),
        ({"paper.sheet_mm": "A3"}, "no answer"),
        ({"paper.sheet_mm": '19" x 13"'}, "no answer"),
        ({"paper.ten_leaves_mm": "0.1 in"}, "no answer"),
        ({"paper.ten_leaves_mm": "-2"}, "no answer"),
        ({"paper.ten_leaves_mm": "nan"}, "no answer"),
        ({"paper.use": "velvet"}, "no answer"),
    ],
)
def test_what_is_no_answer_is_refused(book: Path, answers: dict, said: str) -> None:
    before = (book / "book.toml").read_bytes()
    with pytest.raises(UserError, match=said):
        answer_questions(book, answers, anyway=True)
    assert (book / "book.toml").read_bytes() == before


OWN = """version = 1
[paper.matte-190-a3plus]
name = "what lies in my drawer"
sheet_mm = [482, 330, "measured"]
grammage_gsm = [188, "measured"]
caliper_um = [251, "measured"]
grain = "short"
"""


def test_the_persons_own_materials_go_first(book: Path) -> None:
    (book / "materials.toml").write_text(OWN, encoding="utf-8")
    answer_questions(book, {"paper.use": "matte-190-a3plus"})
    paper = load(book).paper
    assert (paper.name, paper.caliper_um) == ("what lies in my drawer", 251)
    assert paper.caliper_source is Source.MEASURED
    (own,) = (m for m in list_materials(book) if m.own)
    assert "caliper_um 251 (measured)" in list(own.tell())


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (OWN.replace('[251, "measured"]', "251"), "does not say where"),
        (OWN.replace('[251, "measured"]', '[251, "guessed"]'), "does not say where"),
        (OWN.replace('[251, "measured"]', '["thick", "measured"]'), "no number"),
        (OWN.replace("grain", "gran"), "Did you mean grain"),
        (OWN.replace("[paper.", "[papyrus."), "no kind"),
        (OWN.replace("version = 1", ""), "version"),
        (OWN.replace("matte-190-a3plus", "velvet"), None),
    ],
)
def test_wrong_entries_are_named(book: Path, text: str, said: str | None) -> None:
    (book / "materials.toml").write_text(text, encoding="utf-8")
    answers = {"paper.use": "velvet" if said is None else "matte-190-a3plus"}
    if said is None:
        assert answer_questions(book, answers).written
        (book / "materials.toml").unlink()
        with pytest.raises(UserError, match="no paper called 'velvet'"):
            load(book)
        return
    with pytest.raises(UserError, match=said):
        answer_questions(book, answers)


def test_every_number_that_comes_along_is_marked(book: Path) -> None:
    for material in list_materials(book):
        for key, value in material.values.items():
            assert isinstance(value, str) or key in material.sources
    kinds = {m.kind for m in list_materials(book)}
    assert kinds == {"paper", "translucent", "printer", "thread", "board"}


def test_all_that_come_along_can_be_taken(book: Path) -> None:
    for material in list_materials(book):
        table, key = {"thread": ("sewing", "use_thread"), "board": ("case", "use_board")}.get(
            material.kind, (material.kind, "use")
        )
        text = f'version = 1\n[book]\ntitle = "t"\n[{table}]\n{key} = "{material.name}"\n'
        (book / "book.toml").write_text(text, encoding="utf-8")
        assert load(book).title == "t"


def test_the_command_asks_and_takes_a_file(
    book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    answers = tmp_path / "answers.json"
    answers.write_text(json.dumps({"paper.grain": "short"}), encoding="utf-8")
    assert run(["setup", str(book), "--answers", str(answers)]) == 0
    assert tomllib.loads((book / "book.toml").read_text())["paper"]["grain"] == "short"
    answers.write_text(json.dumps({"paper.sheet_mm": "19 x 13"}), encoding="utf-8")
    assert run(["setup", str(book), "--answers", str(answers)]) == 1
    capsys.readouterr()
    assert run(["setup", str(book), "--questions"]) == 0
    asked = json.loads(capsys.readouterr().out)["questions"]
    assert [q["key"] for q in asked] == [q.key for q in list_questions(book)]
    answers.write_text("[1]", encoding="utf-8")
    assert run(["setup", str(book), "--answers", str(answers)]) == 2


def test_the_measuring_sheet_is_a4_and_true(book: Path) -> None:
    (page,) = pypdf.PdfReader(make_measuring_sheet(book)).pages
    # ISO 216 A4, 72 points to the inch.
    size = [float(v) / 72 * 25.4 for v in (page.mediabox.width, page.mediabox.height)]
    assert size == pytest.approx([210, 297], abs=0.05)
