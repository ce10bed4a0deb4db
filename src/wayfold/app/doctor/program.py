"""Trying the program itself: Python, the packages it leans on, its processes, and the desk."""

from __future__ import annotations

import platform
import re
import socket
import sys
import webbrowser
from collections.abc import Callable, Iterable, Iterator
from importlib import metadata
from importlib.resources import files

from packaging.requirements import Requirement

from wayfold.app.doctor.tried import REINSTALL, Standing, Tried, try_one
from wayfold.base.counts import count_of
from wayfold.photos.crew import Crew

PROGRAM, DESK = "Program", "Desk"
OLDEST_PYTHON = (3, 11)


def try_program() -> Iterator[Tried]:
    """Try Python, the packages, and a second process."""
    yield try_one(PROGRAM, "Python", _try_python, "Install Python 3.11 or newer.")
    yield try_one(PROGRAM, "Packages", lambda: judge_packages(metadata.requires("wayfold") or ()))
    yield try_one(PROGRAM, "Worker processes", _try_process)


def try_desk() -> Iterator[Tried]:
    """Try what the desk needs of this machine."""
    yield try_one(DESK, "Front end", _try_front_end)
    yield try_one(
        DESK,
        "A port of this machine",
        _try_port,
        "Let programs of this machine speak with each other (127.0.0.1) in its firewall.",
    )
    yield try_one(DESK, "Browser", _try_browser)


def judge_packages(
    requirements: Iterable[str], find_version: Callable[[str], str] = metadata.version
) -> Tried:
    """Compare what is installed with what Wayfold asks for; optional packages are left out."""
    found, wrong = [], []
    for text in requirements:
        wanted = Requirement(text)
        if wanted.marker is not None and not wanted.marker.evaluate({"extra": ""}):
            continue
        try:
            version = find_version(wanted.name)
        except metadata.PackageNotFoundError:
            wrong.append(f"{wanted.name} is missing")
            continue
        found.append(f"{wanted.name} {version}")
        if not wanted.specifier.contains(version, prereleases=True):
            wrong.append(f"{wanted.name} is {version}, and Wayfold asks for {wanted.specifier}")
    if wrong:
        told = f"{'; '.join(wrong)}."
        return Tried(PROGRAM, "Packages", Standing.FAILS, told, REINSTALL, ", ".join(found))
    told = f"{count_of(len(found), 'package')}, all of versions that Wayfold asks for."
    return Tried(PROGRAM, "Packages", Standing.WORKS, told, detail=", ".join(sorted(found)))


def _try_python() -> str | Tried:
    said = f"Wayfold {metadata.version('wayfold')} with Python {platform.python_version()}"
    said += f" on {platform.system()} ({platform.machine()})."
    if sys.version_info < OLDEST_PYTHON:
        return Tried(PROGRAM, "Python", Standing.FAILS, said, "Install Python 3.11 or newer.")
    return said


def _try_process() -> str:
    with Crew(1) as crew:
        answers = [outcome.result for outcome in crew.run(len, ["Wayfold"])]
    if answers != [len("Wayfold")]:
        raise RuntimeError("a worker process gave no answer")
    return "Photographs are read by processes of their own."


def _try_front_end() -> str:
    page = files("wayfold") / "desk" / "static" / "index.html"
    named = re.findall(r'(?:src|href)="\./([^"]+)"', page.read_text("utf-8"))
    missing = [name for name in named if not (files("wayfold") / "desk/static" / name).is_file()]
    if missing or not named:
        raise RuntimeError(f"parts of it are missing: {', '.join(missing) or 'all'}")
    return "All its parts are there."


def _try_port() -> str:
    with socket.create_server(("127.0.0.1", 0)) as server:
        port = server.getsockname()[1]
        with socket.create_connection(("127.0.0.1", port), timeout=5):
            server.accept()[0].close()
    return "This machine can speak with itself."


def _try_browser() -> str | Tried:
    try:
        webbrowser.get()
    except webbrowser.Error:
        return Tried(
            DESK,
            "Browser",
            Standing.WITHOUT,
            "Wayfold finds no browser that it could open.",
            "The desk prints its address: open that in any browser of this machine.",
        )
    return "There is one that opens by itself."
