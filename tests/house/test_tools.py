"""The tools that the test command leans on: they must not pass where something failed."""

import sys
from pathlib import Path

import pytest

from tools import ensure_browser, run_checks
from tools.run_checks import Check, Tally, run_plain, run_pytest

REPORT = """<testsuites><testsuite tests="7" failures="1" errors="2" skipped="1"/></testsuites>"""


def run(code: str, tmp_path: Path, is_pytest: bool = False) -> Tally:
    tally = Tally()
    check = Check("x", "a check", (sys.executable, "-c", code), is_pytest)
    if is_pytest:
        run_pytest(check, tally, tmp_path)
    else:
        run_plain([check], tally)
    return tally


def test_a_check_counts_as_one(tmp_path: Path) -> None:
    assert run("", tmp_path).passed == 1
    failed = run("raise SystemExit(3)", tmp_path)
    assert (failed.passed, failed.failed, failed.broken) == (0, 1, ["a check"])


def test_what_two_checks_say_at_a_time_is_told_in_order(capfd: pytest.CaptureFixture[str]) -> None:
    waits, quick = "import time; time.sleep(0.3); print('one')", "import sys; sys.exit('two')"
    tally = Tally()
    checks = [Check("x", name, (sys.executable, "-c", name)) for name in (waits, quick)]
    run_plain(checks, tally)
    said = [line for line in capfd.readouterr().out.splitlines() if line in ("one", "two")]
    assert (said, tally.broken) == (["one", "two"], [quick])


def test_tests_are_counted_from_pytests_report(tmp_path: Path) -> None:
    (tmp_path / "x.xml").write_text(REPORT)
    tally = run("raise SystemExit(1)", tmp_path, is_pytest=True)
    assert (tally.passed, tally.failed, tally.skipped) == (3, 3, 1)
    assert tally.broken == ["a check"]


def test_a_test_run_that_broke_down_is_a_failure(tmp_path: Path) -> None:
    assert run("raise SystemExit(4)", tmp_path, is_pytest=True).failed == 1
    (tmp_path / "x.xml").write_text('<testsuites><testsuite tests="0" /></testsuites>')
    nothing_collected = run("raise SystemExit(5)", tmp_path, is_pytest=True)
    assert (nothing_collected.passed, nothing_collected.failed) == (0, 1)


def test_last_line_is_the_plain_count(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    checks = [Check("x", str(code), (sys.executable, "-c", f"exit({code})")) for code in (0, 0, 1)]
    monkeypatch.setattr(run_checks, "list_checks", lambda: checks)
    monkeypatch.setattr(sys, "argv", ["run_checks.py"])
    assert run_checks.main() == 1
    assert capfd.readouterr().out.splitlines()[-1] == "2 passed, 1 failed"
    monkeypatch.setattr(sys, "argv", ["run_checks.py", "y"])
    with pytest.raises(SystemExit, match="No such group"):
        run_checks.main()


def test_every_check_of_the_repository_is_in_a_group_of_the_makefile(root: Path) -> None:
    groups = {check.group for check in run_checks.list_checks()}
    targets = (root / "Makefile").read_text()
    assert f"\n{' '.join(sorted(groups, key=targets.index))}: setup\n" in targets


def test_a_machine_without_browser_is_told_what_to_do(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(ensure_browser.shutil, "which", lambda _name: None)
    assert ensure_browser.main() == 1
    assert "apt-get install chromium" in capsys.readouterr().out
