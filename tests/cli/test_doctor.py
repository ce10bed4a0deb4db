"""What ``wayfold doctor`` prints and gives; and output into files, whatever the system's coding."""

import io
import json

import pytest

from wayfold.app.doctor.tried import Report, Standing, Tried
from wayfold.cli.main import free_of_code_page, run

WELL = Tried("Pages", "Fonts", Standing.WORKS, "EB Garamond.")
WITHOUT = Tried("Pictures", "Camera raws", Standing.WITHOUT, "They are not read.", "Install more.")
ILL = Tried("Pictures", "HEIC", Standing.FAILS, "No decoder.", "Install Wayfold again.")


@pytest.mark.parametrize(
    ("tried", "code", "last"),
    [
        ((WELL, WITHOUT), 0, "All that Wayfold needs works here."),
        ((WELL, WITHOUT, ILL), 2, "1 thing does not work: HEIC."),
    ],
)
def test_the_doctor_tells_part_by_part(
    tried: tuple[Tried, ...],
    code: int,
    last: str,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr("wayfold.app.doctor.examine.examine", lambda _book: Report(tried))
    assert run(["doctor"]) == code
    lines = capsys.readouterr().out.splitlines()
    assert lines[:2] == ["Pages", "  works          Fonts: EB Garamond."]
    assert lines[3:5] == [
        "  not here       Camera raws: They are not read.",
        "                 Install more.",
    ]
    assert lines[-1] == last
    assert run(["doctor", "--json"]) == code
    told = json.loads(capsys.readouterr().out)
    assert told["ok"] is (code == 0)
    assert [one["standing"] for one in told["tried"]] == [one.standing.value for one in tried]


def test_a_pipe_takes_every_letter_whatever_the_code_page() -> None:
    """Windows' western code page has no ł or ć: mapping cp1252, Unicode Consortium."""
    sink = io.BytesIO()
    pipe = io.TextIOWrapper(sink, encoding="cp1252")
    with pytest.raises(UnicodeEncodeError):
        pipe.write("Nałęczów")
    free_of_code_page(pipe)
    pipe.write("Nałęczów")
    pipe.flush()
    assert sink.getvalue().decode() == "Nałęczów"


def test_a_terminal_shows_what_it_can() -> None:
    class Terminal(io.BytesIO):
        def isatty(self) -> bool:
            return True

    sink = Terminal()
    terminal = io.TextIOWrapper(sink, encoding="cp1252")
    free_of_code_page(terminal)
    terminal.write("é ł")
    terminal.flush()
    assert sink.getvalue().decode("cp1252") == "é ?"
