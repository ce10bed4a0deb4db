"""Make sure that there is a Chromium for the browser tests, or say plainly how to get one."""

import os
import shutil
import subprocess

NAMES = ("chromium", "chromium-browser", "google-chrome")
APT_TIMEOUT_S = 900


def find_browser() -> str | None:
    for name in NAMES:
        if path := shutil.which(name):
            return path
    return None


def install_browser() -> None:
    quiet = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", "chromium"],
    ):
        subprocess.run(
            command, check=True, env=quiet, timeout=APT_TIMEOUT_S, stdout=subprocess.DEVNULL
        )


def main() -> int:
    if find_browser():
        return 0
    if shutil.which("apt-get") and hasattr(os, "geteuid") and os.geteuid() == 0:
        print("No Chromium on this machine: installing the system's own package.", flush=True)
        try:
            install_browser()
        except (subprocess.SubprocessError, OSError) as error:
            print(f"Chromium could not be installed: {error}")
    if find_browser():
        return 0
    print(
        "The browser tests need Chromium, and this machine has none. Install the system's package"
        " (on Debian: apt-get install chromium) and run `make test` again."
    )
    return 1


if __name__ == "__main__":
    raise SystemExit(main())
