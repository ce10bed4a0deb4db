import pytest

from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.cli.show import count_findings, show_findings, show_mended

NOTE = Finding("a", Severity.NOTE, "photographs", "one town was not found")
LATE = Finding("b", Severity.WARN, "pages 12 and 13", "a little soft", "Show it smaller.")
EARLY = Finding("c", Severity.WARN, "page 9", "a little soft")
AGAIN = Finding("d", Severity.NOTE, "page 9", "no room for its date")
GRAVE = Finding("e", Severity.BLOCK, "page 30", "the file is missing", "Put it back.")


def test_findings_stand_by_place(capsys: pytest.CaptureFixture[str]) -> None:
    show_findings([NOTE, LATE, AGAIN, EARLY, GRAVE])
    assert capsys.readouterr().out.splitlines() == [
        "page 30",
        "  must be mended: the file is missing",
        "    Put it back.",
        "page 9",
        "  look at: a little soft",
        "  note: no room for its date",
        "pages 12 and 13",
        "  look at: a little soft",
        "    Show it smaller.",
        "photographs",
        "  note: one town was not found",
    ]


def test_what_can_be_mended_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    safe = Rewording("text:rome", "12km", "12 km")
    show_findings([Finding("a", Severity.WARN, "page 2", "no space", rewordings=(safe,))])
    assert capsys.readouterr().out.splitlines()[-1] == "    --mend writes “12km” as “12 km”"
    show_mended((safe,))
    assert "1 passage mended; “wayfold undo”" in capsys.readouterr().out
    show_mended(())
    assert "Nothing was found that is safe to mend." in capsys.readouterr().out


def test_long_lines_break_and_hang(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    show_findings([Finding("a", Severity.WARN, "page 2", "words " * 20)])
    lines = capsys.readouterr().out.splitlines()[1:]
    assert max(map(len, lines)) <= 40 and all(line.startswith("    ") for line in lines[1:])


def test_counting() -> None:
    assert count_findings([]) == "Nothing found"
    found = [NOTE, LATE, AGAIN, EARLY, GRAVE]
    assert count_findings(found) == "1 must be mended, 2 to look at, 2 notes"
    assert count_findings([NOTE]) == "1 note"
