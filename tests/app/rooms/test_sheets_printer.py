"""Paper and printer at the desk: what is asked, what is kept, what is asked back."""

from __future__ import annotations

import pytest

from wayfold.app.rooms.sheets_printer import answer, list_asked, list_turning, turning_svg
from wayfold.app.session import Session
from wayfold.base.errors import NotFoundError, UserError


def test_papers_are_offered_with_where_their_numbers_come_from(session: Session) -> None:
    asked = {a.question.key: a for a in list_asked(session)}
    assert {key.split(".")[0] for key in asked} == {"paper", "printer", "translucent"}
    papers = {entry.name: entry for entry in asked["paper.use"].entries}
    facts = {f.key: (f.value, f.source) for f in papers["matte-140-a3plus"].facts}
    assert facts["sheet_mm"] == ("483 × 329", "maker")
    assert facts["caliper_um"] == ("175", "estimated")
    assert not asked["paper.grain"].entries


def test_answers_are_kept_and_taken_back(session: Session) -> None:
    was = session.results.book.printer
    done = answer(session, {"printer.duplex": "manual", "printer.feed": "long-edge"}, anyway=False)
    assert done.kept
    assert session.results.book.printer.duplex == "manual"
    session.undo()
    assert session.results.book.printer == was


def test_a_doubtful_answer_is_asked_about_first(session: Session) -> None:
    """The weight of a paper in pounds is no weight in g/m2: 20 lb bond is 75 g/m2 (ISO 536)."""
    before = session.folder.book_file.read_bytes()
    done = answer(session, {"paper.grammage_gsm": "20"}, anyway=False)
    assert not done.kept
    assert any("g/m²" in finding.message for finding in done.findings)
    assert session.folder.book_file.read_bytes() == before
    assert answer(session, {"paper.grammage_gsm": "20"}, anyway=True).kept
    assert session.results.book.paper.grammage_gsm == 20


def test_no_answer_is_refused(session: Session) -> None:
    with pytest.raises(UserError, match="is no answer"):
        answer(session, {"paper.grain": "across"}, anyway=True)
    with pytest.raises(UserError, match="no question"):
        answer(session, {"paper.colour": "red"}, anyway=False)


def test_the_paper_is_turned_in_pictures_for_every_printer(session: Session) -> None:
    by_hand = list_turning(session, "manual", "reversed", "long-edge")
    assert len(by_hand) == 4
    assert "sheet 2 must be drawn in first" in by_hand[2].words
    by_itself = list_turning(session, "long-edge", None, None)
    assert len(by_itself) == 3
    assert "long edge" in by_itself[1].words
    assert turning_svg(session, by_itself, 3).startswith("<svg")
    with pytest.raises(NotFoundError):
        turning_svg(session, by_itself, 4)
