"""Every finding leads to a room, and to its page; what is safe is mended at once."""

from pathlib import Path

import pytest

from tests.desk_book import copy_book
from wayfold.app.rooms.findings import FindingsKeeper, place_finding
from wayfold.app.session import Session
from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.book.edits import SetCaption, SetText
from wayfold.cli.main import run
from wayfold.layout.model import PictureFrame


@pytest.mark.parametrize(
    ("where", "pages"),
    [
        ("page 12", (12,)),
        ("pages 12 and 13", (12, 13)),
        ("pages 2, 3 and 4", (2, 3, 4)),
        ("page of contents", ()),
        ("texts/page 3.md", ()),
        ("", ()),
    ],
)
def test_pages_are_read_from_where_a_finding_is(where: str, pages: tuple[int, ...]) -> None:
    assert Finding("rule", Severity.NOTE, where, "what").pages == pages


def test_findings_lead_to_their_rooms(session: Session) -> None:
    def lead(rule: str, where: str) -> tuple[str, str]:
        placed = place_finding(Finding(rule, Severity.WARN, where, "what"), session.results)
        return placed.room, placed.place

    assert lead("resolution", "page 3") == ("spread", "page-3")
    assert lead("overset", "page 900") == ("spread", f"page-{len(session.results.drawings)}")
    assert lead("calendar.damaged", "calendars/a.ics") == ("journey", "")
    assert lead("photos.truncated", "photographs/a.jpg") == ("pictures", "")
    assert lead("plan-interleaf", "gathering 2") == ("flatplan", "")
    assert lead("grain", "paper") == ("sheets", "")


def test_what_is_found_of_the_case_leads_to_the_bench(session: Session) -> None:
    placed = FindingsKeeper().list_findings(session)
    rooms = {one.room for one in placed if one.finding in session.results.case.findings}
    assert rooms <= {"case"}


def test_the_book_is_judged_anew_when_it_changes(session: Session) -> None:
    keeper = FindingsKeeper()
    before = keeper.list_findings(session)
    assert keeper.list_findings(session) is before
    session.edit(SetText("unasked", "Words that nobody asked for."))
    after = keeper.list_findings(session)
    new = {one.finding.rule for one in after} - {one.finding.rule for one in before}
    assert "words.unused-text" in new


WORDS = "We walked 12km on *Monday*, May 12th.\n\nAnd 7km more, on 4/5/2025.\n"
MENDED = "We walked 12 km on *Monday*, May 12th.\n\nAnd 7 km more, on 4/5/2025.\n"


def read_decisions(root: Path) -> dict[str, bytes]:
    files = [*root.glob("*.toml"), *(root / "texts").iterdir()]
    return {path.name: path.read_bytes() for path in files}


def test_what_is_safe_is_mended_as_one_change(session: Session) -> None:
    keeper = FindingsKeeper()
    shown = next(f.photo for p in session.results.layout.pages for f in p.frames if is_picture(f))
    session.edit(SetText("foreword", WORDS), SetCaption(shown, "After 9km of rain"))
    was, count = read_decisions(session.folder.root), session.state().changes
    before = keeper.list_findings(session)
    offered = {one for placed in before for one in placed.finding.rewordings}
    # The date that reads two ways keeps the others of its text from being mended.
    assert {(one.source, one.old, one.new) for one in offered} == {
        ("text:foreword", "12km", "12 km"),
        ("text:foreword", "7km", "7 km"),
        (f"caption:{shown}", "9km", "9 km"),
    }
    mended = keeper.mend(session, offered)
    assert set(mended.rewordings) == offered
    assert mended.worse == ()
    after = keeper.list_findings(session)
    assert mended.remaining == sum(one.finding.severity is not Severity.NOTE for one in after)
    assert len(after) == len(before) - sum(bool(one.finding.rewordings) for one in before)
    assert session.results.book.texts["foreword"] == MENDED
    assert session.state().changes == count + 1
    session.undo()
    assert read_decisions(session.folder.root) == was


def test_a_sign_that_no_font_has_is_told_before_anything_is_made(session: Session) -> None:
    # U+10D30, Hanifi Rohingya: in no text font (Unicode 11).
    session.edit(SetText("foreword", "We went \U00010d30 west."))
    found = [one for one in FindingsKeeper().list_findings(session) if one.finding.rule == "glyphs"]
    assert [one.finding.severity for one in found] == [Severity.BLOCK]
    assert found[0].room == "spread" and "U+10D30" in found[0].finding.message


def is_picture(frame: object) -> bool:
    return isinstance(frame, PictureFrame)


def test_what_is_not_on_offer_is_not_done(session: Session) -> None:
    count = session.state().changes
    strange = {Rewording("text:foreword", "west", "east"), Rewording("text:none", "a", "b")}
    assert FindingsKeeper().mend(session, strange).rewordings == ()
    assert session.state().changes == count


def test_the_command_names_what_is_safe_and_mends_it_when_asked(
    atlantic: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    root = copy_book(atlantic, tmp_path / "atlantic")
    text = root / "texts" / "foreword.md"
    text.write_text(WORDS, encoding="utf-8")
    run(["check", str(root), "--mend"])
    told = capsys.readouterr().out
    assert "mended: “12km” as “12 km”" in told
    assert "2 passages mended" in told
    assert text.read_text("utf-8") == MENDED
    run(["undo", str(root)])
    assert text.read_text("utf-8") == WORDS
