"""Every finding leads to a room; those that name pages lead there."""

import pytest

from wayfold.app.rooms.findings import FindingsKeeper, place_finding
from wayfold.app.session import Session
from wayfold.base.findings import Finding, Severity
from wayfold.book.edits import SetText


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
