"""Write desk-ui/src/api.d.ts from the server's OpenAPI document; ``--check`` fails when stale."""

import argparse
import json
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from building.node import run_npm  # noqa: E402
from wayfold.app.shelf import Shelf  # noqa: E402
from wayfold.desk.server import create_desk  # noqa: E402

DESK_UI = ROOT / "desk-ui"
TYPES = DESK_UI / "src" / "api.d.ts"


def make_types(scratch: Path) -> str:
    # Routes are only described here, never called, so no book is open.
    document = create_desk(Shelf()).openapi()
    source = scratch / "openapi.json"
    source.write_text(json.dumps(document, indent=2, sort_keys=True), "utf-8")
    target = scratch / "api.d.ts"
    run_npm(DESK_UI, *f"exec --no -- openapi-typescript {source} --output {target}".split())
    return target.read_text("utf-8")


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--check", action="store_true")
    check = parser.parse_args().check
    with tempfile.TemporaryDirectory() as scratch:
        types = make_types(Path(scratch))
    if not check:
        TYPES.write_text(types, "utf-8")
    elif not TYPES.is_file() or TYPES.read_text("utf-8") != types:
        print(f"{TYPES.relative_to(ROOT)} is stale: run `make api` and commit it.")
        return 1
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
