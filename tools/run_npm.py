"""Run npm in desk-ui with the environment's own Node: ``python tools/run_npm.py run test``."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from building.node import run_npm  # noqa: E402


def main() -> int:
    try:
        run_npm(ROOT / "desk-ui", *sys.argv[1:])
    except subprocess.CalledProcessError as error:
        return error.returncode
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
