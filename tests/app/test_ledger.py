"""The ledger of printed sheets against the pixels: what it lists differs, the rest is equal.

The judge is a raster of the print files at another resolution than the ledger's own looks are
taken at; Pillow compares.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import threading
import tomllib
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from pathlib import Path

import pypdf
import pypdfium2
import pytest
from PIL import Image, ImageChops

from tests.app.conftest import LISBON, PORTO, paint
from wayfold.app import ledger, planning
from wayfold.app.ledger import mark_sheets, take_back_marks, view_ledger
from wayfold.app.ledger_compare import LedgerView, SheetState
from wayfold.app.made import Made
from wayfold.app.make import make_book
from wayfold.app.new import begin_book
from wayfold.app.plan import view_plan
from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.geometry import Rect
from wayfold.base.progress import NoProgress, Progress
from wayfold.book.edits import SetCaption, SetCrop, SetPicks, SetText
from wayfold.book.state import Pick
from wayfold.plan.model import PlanResult
from wayfold.plan.problem import PlanProblem
from wayfold.project.files import BookFolder
from wayfold.project.plan_file import read_plan
from wayfold.project.store import write_edit

SEQUENCES = 300 if "WAYFOLD_EXPLORE" in os.environ else 6
"""Each makes a small book anew some four times; all of them take about half an hour."""
JUDGE_PPI = 72


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of eight small pictures."""
    root = tmp_path_factory.mktemp("ledger") / "small"
    for n in range(8):
        taken = datetime(2025, 5, 12, 9, 30) + timedelta(hours=7 * n)
        size = [(300, 200), (200, 300)][n % 2]
        paint(root / "photographs" / f"{n}.jpg", size, 30 * n, taken, LISBON if n < 4 else PORTO)
    begin_book(root, "Two Towns", [root / "photographs"])
    make_book(root, NoProgress())
    return root


@pytest.fixture
def folder(small: Path, tmp_path: Path) -> BookFolder:
    root = tmp_path / "small"
    shutil.copytree(small, root)
    make_book(root, NoProgress())
    return BookFolder(root)


def photos_of(folder: BookFolder) -> list[str]:
    return sorted(tomllib.loads(folder.photos_file.read_text("utf-8"))["photo"])


def look(folder: BookFolder, view: LedgerView, label: str) -> list[Image.Image]:
    """Front and back of a sheet as pictures."""
    (sheet,) = (s for s in view.sheets if s.label == label)
    document = pypdfium2.PdfDocument(folder.out / sheet.file)
    scale = JUDGE_PPI / 72
    sides = [document[2 * sheet.at + n].render(scale=scale).to_pil() for n in (0, 1)]
    document.close()
    return sides


def differ(one: list[Image.Image], other: list[Image.Image]) -> bool:
    return any(
        a.size != b.size or ImageChops.difference(a.convert("RGB"), b.convert("RGB")).getbbox()
        for a, b in zip(one, other, strict=True)
    )


def write_setting(folder: BookFolder, table: str, line: str) -> None:
    text = folder.book_file.read_text("utf-8")
    key = line.split(" ")[0]
    # A style's name alone may stand in place of its table.
    gone = (f"{key} = ", f"{table} = ")
    kept = [row for row in text.splitlines() if not row.startswith(gone)]
    at = next((n for n, row in enumerate(kept) if row.startswith(f"[{table}]")), None)
    if at is None:
        at = len(kept)
        kept += [f"[{table}]"]
    kept.insert(at + 1, line)
    folder.book_file.write_text("\n".join(kept) + "\n", "utf-8")


def make_random_edit(folder: BookFolder, chance: random.Random) -> None:
    """Change something that shows, or does not, or shows only on some sheets."""
    photo = chance.choice(photos_of(folder))
    words = chance.choice(["A wall.", "The sea, seen from above.", "", "Łódź, ‘quoted’ – dash"])
    edits: list[Callable[[], object]] = [
        lambda: write_edit(folder, SetCaption(photo, words)),
        lambda: write_edit(folder, SetPicks(((photo, chance.choice([*Pick])),))),
        lambda: write_edit(
            folder, SetCrop(photo, Rect(0.1, 0.1, 0.8, 0.8) if chance.random() < 0.6 else None)
        ),
        lambda: write_edit(folder, SetText("foreword", f"We went {words}.\n")),
        lambda: write_setting(folder, "style", f"gap_mm = {chance.choice([4.0, 4.0, 5.0])}"),
        lambda: write_setting(folder, "style", f'accent = "#7a{chance.choice(["40", "4a"])}32"'),
        lambda: write_setting(folder, "style", f"wash_seed = {chance.randint(0, 2)}"),
        lambda: write_setting(folder, "paper", f"caliper_um = {chance.choice([240, 238, 200])}.0"),
        lambda: write_setting(folder, "book", f'author = "{chance.choice(["Ida", "Ida Vale"])}"'),
        lambda: write_setting(folder, "binding", f"creep_coefficient = {chance.choice([1, 1.2])}"),
    ]
    chance.choice(edits)()


@pytest.mark.parametrize("seed", range(SEQUENCES))
def test_what_is_listed_differs_and_what_is_not_is_equal(folder: BookFolder, seed: int) -> None:
    chance = random.Random(seed)
    labels = [sheet.label for sheet in view_ledger(folder.root).sheets]
    printed: dict[str, list[Image.Image]] = {}
    for _ in range(3):
        view = view_ledger(folder.root)
        labels = [s.label for s in view.sheets if s.state is not SheetState.PRINTED]
        chosen = chance.sample(labels, k=chance.randint(0, len(labels)))
        if chosen:
            mark_sheets(folder.root, [shorten(label) for label in chosen], printed=True)
        printed |= {label: look(folder, view, label) for label in chosen}
        for _ in range(chance.randint(1, 3)):
            make_random_edit(folder, chance)
        make_book(folder.root, NoProgress())
        view = view_ledger(folder.root)
        for sheet in view.sheets:
            if sheet.state is not SheetState.UNPRINTED:
                listed = sheet.state is SheetState.CHANGED
                real = differ(printed[sheet.label], look(folder, view, sheet.label))
                assert listed == real, (sheet, seed)
            else:
                assert sheet.label not in printed


def shorten(label: str) -> str:
    words = label.replace(",", "").split()
    return f"i{words[-1]}" if words[0] == "interleaf" else f"{words[1]}.{words[3]}"


def test_a_caption_lists_its_sheet_with_the_reason_and_a_file_of_just_that_sheet(
    folder: BookFolder,
) -> None:
    photo = photos_of(folder)[0]
    write_edit(folder, SetCaption(photo, "One."))
    make_book(folder.root, NoProgress())
    mark_sheets(folder.root, ["all"], printed=True)
    write_edit(folder, SetCaption(photo, "Two."))
    report = make_book(folder.root, NoProgress())
    (page,) = report.pages
    (told,) = report.reprint
    view = view_ledger(folder.root)
    (sheet,) = view.again
    assert told == f"{sheet.label}: {', '.join(sheet.reasons)}"
    assert sheet.reasons[0].startswith(f"page {page}: caption")
    reprint = pypdf.PdfReader(folder.out / "reprint.pdf")
    whole = pypdf.PdfReader(folder.out / "sheets.pdf")
    assert len(reprint.pages) == 2
    assert [p.extract_text() for p in reprint.pages] == [
        whole.pages[2 * sheet.at + n].extract_text() for n in (0, 1)
    ]
    assert view.saved.sheets == len(view.sheets) - 1
    after = mark_sheets(folder.root, ["again"], printed=True)
    assert not after.again
    assert not (folder.out / "reprint.pdf").exists()


def test_an_edit_taken_back_lists_nothing(folder: BookFolder) -> None:
    mark_sheets(folder.root, ["all"], printed=True)
    photo = photos_of(folder)[0]
    for caption in ("Something else.", None):
        write_edit(folder, SetCaption(photo, caption))
        make_book(folder.root, NoProgress())
    assert not view_ledger(folder.root).again


def test_a_hairs_shift_may_be_passed_over_but_never_silently(folder: BookFolder) -> None:
    mark_sheets(folder.root, ["all"], printed=True)
    write_setting(folder, "paper", "caliper_um = 225.0")
    make_book(folder.root, NoProgress())
    moved = view_ledger(folder.root).again
    assert moved
    assert any("mm elsewhere" in reason for sheet in moved for reason in sheet.reasons)
    write_setting(folder, "printed", "ignore_shift_mm = 0.2")
    write_setting(folder, "printed", "ignore_marks = true")
    make_book(folder.root, NoProgress())
    view = view_ledger(folder.root)
    assert not view.again
    passed = [sheet for sheet in view.sheets if sheet.ignored]
    assert {s.label for s in passed} == {s.label for s in moved}
    assert any("ignore_shift_mm = 0.2" in words for sheet in passed for words in sheet.ignored)


def test_the_ledger_outlasts_the_cache(folder: BookFolder) -> None:
    mark_sheets(folder.root, ["1"], printed=True)
    shutil.rmtree(folder.private)
    make_book(folder.root, NoProgress())
    view = view_ledger(folder.root)
    states = {s.state for s in view.sheets if s.label.startswith("gathering 1,")}
    assert states == {SheetState.PRINTED}


def test_two_that_mark_at_once_lose_no_mark(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    both, look_at = threading.Barrier(2, timeout=30), ledger._look_at

    def look_together(folder: BookFolder, made: Made, labels: Sequence[str]) -> object:
        if labels:
            both.wait()  # each has read what lies printed, and neither has noted anything
        return look_at(folder, made, labels)

    view = view_ledger(folder.root)
    names = [shorten(sheet.label) for sheet in view.sheets[:2]]
    with monkeypatch.context() as patch, ThreadPoolExecutor(2) as pool:
        patch.setattr(ledger, "_look_at", look_together)
        list(pool.map(lambda name: mark_sheets(folder.root, [name], printed=True), names))
    states = [sheet.state for sheet in view_ledger(folder.root).sheets]
    assert states[:2] == [SheetState.PRINTED] * 2
    assert SheetState.PRINTED not in states[2:]
    # Each is a step of its own: taking back the later leaves the earlier.
    taken_back = take_back_marks(folder.root).sheets
    assert [sheet.state for sheet in taken_back].count(SheetState.PRINTED) == 1


def test_a_sheet_marked_while_the_book_is_planned_stays(
    folder: BookFolder, monkeypatch: pytest.MonkeyPatch
) -> None:
    solve, marked = planning.solve, []

    def solve_late(problem: PlanProblem, progress: Progress | None) -> PlanResult:
        if not marked:
            marked.append(mark_sheets(folder.root, ["1.1"], printed=True))
        return solve(problem, progress)

    monkeypatch.setattr(planning, "solve", solve_late)
    write_edit(folder, SetPicks(((photos_of(folder)[-1], Pick.LEAVE),)))
    view_plan(folder.root, NoProgress())
    assert marked
    plan = read_plan(folder.plan_file)
    assert plan is not None
    assert plan.printed == (1,)


def test_what_was_made_must_lie_there_to_be_marked(folder: BookFolder) -> None:
    with (folder.out / "sheets.pdf").open("ab") as file:
        file.write(b"\n")
    with pytest.raises(UserError) as caught:
        mark_sheets(folder.root, ["1"], printed=True)
    assert "wayfold make" in caught.value.remedy


@pytest.mark.parametrize("name", ["9", "1.9", "i1", "first", ""])
def test_a_sheet_the_book_has_not_is_named(folder: BookFolder, name: str) -> None:
    with pytest.raises(NotFoundError) as caught:
        mark_sheets(folder.root, [name], printed=True)
    assert "2.1" in caught.value.remedy


def test_a_ledger_meddled_with_says_what_to_do(folder: BookFolder) -> None:
    mark_sheets(folder.root, ["1.1"], printed=True)
    text = folder.ledger_file.read_text("utf-8")
    folder.ledger_file.write_text(text.replace('ink = "[', 'ink = "{'), "utf-8")
    if folder.ledger_file.read_text("utf-8") == text:
        folder.ledger_file.write_text(text.replace("ink = '[", "ink = '{"), "utf-8")
    with pytest.raises(UserError) as caught:
        view_ledger(folder.root)
    assert "gathering 1, sheet 1" in caught.value.what


def test_the_command_tells_how_all_sheets_stand(
    folder: BookFolder, capsys: pytest.CaptureFixture[str]
) -> None:
    from wayfold.cli.main import run

    assert run(["printed", str(folder.root), "1.1"]) == 0
    assert "Printed: 1 of" in capsys.readouterr().out
    assert run(["printed", str(folder.root), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [s["state"] for s in told["sheets"]].count("printed") == 1
