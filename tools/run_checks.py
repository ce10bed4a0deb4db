"""Run every check of the project, or the named groups, and close with one count.

A failing check does not stop the others: one run shows all that is wrong. The last line printed
is ``N passed, N failed``, counting tests, and as one each the checks that are no tests.
"""

import subprocess
import sys
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BIN = Path(sys.executable).parent
PYTHON = sys.executable
FOLDERS = ("src", "tests", "building", "tools", "benchmarks", "proving", "hatch_build.py")


@dataclass(frozen=True, slots=True)
class Check:
    group: str
    title: str
    command: tuple[str, ...]
    is_pytest: bool = False


@dataclass(slots=True)
class Tally:
    passed: int = 0
    failed: int = 0
    skipped: int = 0
    broken: list[str] = field(default_factory=list)


def npm(*arguments: str) -> tuple[str, ...]:
    return (PYTHON, "tools/run_npm.py", *arguments)


def pytest(*arguments: str) -> tuple[str, ...]:
    return (PYTHON, "-m", "pytest", "-q", *arguments)


def list_checks() -> list[Check]:
    sources = tuple(name for name in FOLDERS if (ROOT / name).exists())
    ruff = str(BIN / "ruff")
    return [
        Check("lint", "formatting", (ruff, "format", "--check", "--quiet", *sources)),
        Check("lint", "ruff", (ruff, "check", "--quiet", *sources)),
        Check(
            "types", "mypy", (PYTHON, "-m", "mypy", "src", "building", "tools", "hatch_build.py")
        ),
        Check("types", "import rules", (str(BIN / "lint-imports"), "--no-logo")),
        Check("frontend", "front end formatting", npm("run", "--silent", "format:check")),
        Check("frontend", "front end types", npm("run", "--silent", "check")),
        Check("frontend", "front end tests", npm("run", "--silent", "test")),
        Check("frontend", "API types", (PYTHON, "tools/write_api_types.py", "--check")),
        Check("unit", "tests", pytest("--ignore=tests/browser", "-n", "2"), is_pytest=True),
        Check("browser", "a browser", (PYTHON, "tools/ensure_browser.py")),
        Check("browser", "browser tests", pytest("tests/browser", "-n", "2"), is_pytest=True),
    ]


def count_tests(report: Path, tally: Tally) -> int:
    """Add pytest's own counts; returns how many failed. No report counts as one failure."""
    if not report.exists():
        tally.failed += 1
        return 1
    suite = ElementTree.parse(report).getroot().find("testsuite")
    numbers = {} if suite is None else {key: int(suite.get(key, "0")) for key in COUNTED}
    failed = numbers.get("failures", 0) + numbers.get("errors", 0)
    skipped = numbers.get("skipped", 0)
    tally.failed += failed
    tally.skipped += skipped
    tally.passed += numbers.get("tests", 0) - failed - skipped
    return failed


COUNTED = ("tests", "failures", "errors", "skipped")


def run_plain(checks: list[Check], tally: Tally) -> None:
    """Run what is no pytest: on one core each, so two at a time. What they say comes in order."""
    with ThreadPoolExecutor(2) as hands:
        for check, (code, said, lasted_s) in zip(checks, hands.map(run_apart, checks), strict=True):
            print(f"\n== {check.title}\n{said}-- {check.title}: {lasted_s:.1f} s", flush=True)
            if code == 0:
                tally.passed += 1
            else:
                tally.failed += 1
                tally.broken.append(check.title)


def run_apart(check: Check) -> tuple[int, str, float]:
    """Give how a check ended, what it said, and how long it took."""
    started = time.monotonic()
    done = subprocess.run(
        check.command, cwd=ROOT, check=False, stdout=subprocess.PIPE, stderr=subprocess.STDOUT
    )
    return done.returncode, done.stdout.decode("utf-8", "replace"), time.monotonic() - started


def run_pytest(check: Check, tally: Tally, scratch: Path) -> None:
    """Run tests, which take both cores themselves, and count them."""
    print(f"\n== {check.title}", flush=True)
    started = time.monotonic()
    report = scratch / f"{check.group}.xml"
    command = [*check.command, f"--junitxml={report}"]
    code = subprocess.run(command, cwd=ROOT, check=False).returncode
    print(f"-- {check.title}: {time.monotonic() - started:.1f} s", flush=True)
    # Pytest can fail without a failing test: a broken option, nothing collected, a crash.
    if not count_tests(report, tally) and code != 0:
        tally.failed += 1
    if code != 0:
        tally.broken.append(check.title)


def main() -> int:
    groups = set(sys.argv[1:])
    checks = [check for check in list_checks() if not groups or check.group in groups]
    if not checks:
        raise SystemExit(f"No such group of checks: {', '.join(sorted(groups))}")
    tally = Tally()
    with tempfile.TemporaryDirectory() as scratch:
        run_plain([check for check in checks if not check.is_pytest], tally)
        for check in checks:
            if check.is_pytest:
                run_pytest(check, tally, Path(scratch))
    print()
    if tally.broken:
        print(f"Failed: {', '.join(tally.broken)}")
    line = f"{tally.passed} passed, {tally.failed} failed"
    print(f"{line}, {tally.skipped} skipped" if tally.skipped else line, flush=True)
    return 1 if tally.failed else 0


if __name__ == "__main__":
    raise SystemExit(main())
