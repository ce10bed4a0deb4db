"""Write the lock files: two of Python from pyproject.toml, one of npm from desk-ui/package.json.

Run through ``make lock``, which gives it an environment with pip-tools. The locks hold names,
versions and hashes, and no address: whoever installs from them chooses the index.
"""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from building.node import run_npm  # noqa: E402

HEADER = """\
# {what}
# Made by `make lock` from pyproject.toml; do not edit by hand.
# For Python 3.11 on Linux x86-64. Hashes of every file of a release are listed, so other systems
# can install from it too, as long as they need no package that only they need.
"""


def compile_lock(requirements: list[str], constraints: list[Path], output: Path, what: str) -> None:
    command = [
        *(sys.executable, "-m", "piptools", "compile", "-", "--quiet", "--upgrade"),
        *("--generate-hashes", "--allow-unsafe", "--strip-extras", "--no-header"),
        *("--no-emit-index-url", "--no-emit-find-links", "--no-emit-trusted-host"),
        *("--no-annotate", "--output-file", str(output)),
    ]
    for constraint in constraints:
        command += ["--constraint", str(constraint)]
    # A machine's own pip settings (extra indexes, folders of wheels) must not reach the lock.
    settings = {"PIP_CONFIG_FILE": os.devnull, "PIP_FIND_LINKS": "", "PIP_EXTRA_INDEX_URL": ""}
    text = "\n".join(requirements) + "\n"
    output.unlink(missing_ok=True)
    subprocess.run(command, input=text, text=True, check=True, env=os.environ | settings)
    output.write_text(HEADER.format(what=what) + output.read_text("utf-8"), "utf-8")


def write_npm_lock(desk_ui: Path) -> None:
    """Renew package-lock.json and take the sponsors' addresses out of it."""
    run_npm(desk_ui, "install", "--package-lock-only", "--ignore-scripts", "--loglevel=error")
    path = desk_ui / "package-lock.json"
    lock = json.loads(path.read_text("utf-8"))
    for package in lock["packages"].values():
        package.pop("funding", None)
        if "resolved" in package:
            raise SystemExit(f"{path} names an address; desk-ui/.npmrc should prevent that.")
    path.write_text(json.dumps(lock, indent=2) + "\n", "utf-8")


def main() -> None:
    if sys.version_info[:2] != (3, 11) or sys.platform != "linux":
        raise SystemExit("The lock is made with Python 3.11 on Linux: run `make lock` there.")
    pyproject = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    runtime: list[str] = pyproject["project"]["dependencies"]
    development: list[str] = pyproject["dependency-groups"]["dev"]
    lock = ROOT / "requirements.lock"
    compile_lock(runtime, [], lock, "What Wayfold needs to run.")
    compile_lock(
        runtime + development,
        [lock],
        ROOT / "requirements-dev.lock",
        "What Wayfold needs to be built, tested and run.",
    )
    write_npm_lock(ROOT / "desk-ui")


if __name__ == "__main__":
    main()
