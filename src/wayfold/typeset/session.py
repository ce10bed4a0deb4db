"""One Typst compiler a thread, and what it says of a job."""

from __future__ import annotations

import json
import os
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from wayfold.base.errors import UserError
from wayfold.typeset.encode import Job
from wayfold.typeset.fonts import LAST_RESORT, FontLibrary

if TYPE_CHECKING:
    import typst

_FOLDER = Path(__file__).parent
_TEMPLATE = _FOLDER / "template.typ"
_PROBE = _FOLDER / "probe.typ"


@dataclass(frozen=True, slots=True)
class TextFit:
    """What a text item needs: its height in points, and by how many mm a word sticks out."""

    index: int
    need_pt: float
    stick_out: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What came of one job; ``data`` is the page's file, the rest the measurements."""

    data: bytes
    fits: tuple[TextFit, ...]
    heights_pt: tuple[float, ...]
    widths_pt: tuple[float, ...]
    cuts: tuple[int, ...]


_process: int | None = None
"""The process in which Typst has its pool of threads; set by the first job."""


class Session:
    """Runs jobs with Typst. Safe to share between threads; never fork after the first job.

    Typst keeps a pool of threads that does not outlive a fork: start worker processes by spawning.
    """

    def __init__(self, fonts: FontLibrary) -> None:
        self._fonts = fonts
        self._own = threading.local()

    def run(self, job: Job, form: Literal["pdf", "svg", "png"], ppi: float | None = None) -> Answer:
        """Draw and measure one job; ``ppi`` is for PNG.

        Raises UserError for a font that Typst does not find.
        """
        _refuse_fork()
        compiler = self._compiler()
        data, warnings = compiler.compile_with_warnings(
            format=form,
            ppi=ppi,
            sys_inputs={"job": json.dumps(job, ensure_ascii=False, allow_nan=False)},
            timestamp=0,
            pdf_tags=False,
        )
        for warning in warnings:
            if "unknown font family" in warning.message:
                raise UserError(warning.message, where="style")
        if not isinstance(data, bytes):
            raise RuntimeError("one page was asked for, and Typst gave another number")
        return Answer(
            data=data,
            fits=tuple(TextFit(*found) for found in _query(compiler, "fit")),
            heights_pt=tuple(height for _, height in _query(compiler, "height")),
            widths_pt=tuple(_query(compiler, "width")),
            cuts=tuple(_query(compiler, "cut")),
        )

    def has_sign(self, sign: str) -> bool:
        """Whether the family of last resort has a glyph for ``sign``.

        Typst carries that family inside and shows no table of it; but for PDF/A it refuses a page
        with a missing glyph.
        """
        import typst

        _refuse_fork()
        try:
            typst.compile(
                _PROBE,
                root=_FOLDER,
                font_paths=self._fonts.typst_fonts,
                ignore_system_fonts=True,
                format="pdf",
                sys_inputs={"sign": sign, "font": LAST_RESORT},
                pdf_standards="a-2b",
                timestamp=0,
            )
        except typst.TypstError:
            return False
        return True

    def _compiler(self) -> typst.Compiler:
        found: typst.Compiler | None = getattr(self._own, "compiler", None)
        if found is None:
            import typst

            # The template goes in as a path: given as bytes, it can be compiled only once.
            found = typst.Compiler(
                _TEMPLATE,
                root=_FOLDER,
                font_paths=self._fonts.typst_fonts,
                ignore_system_fonts=True,
                sys_inputs={"job": "{}"},
            )
            self._own.compiler = found
        return found


def _refuse_fork() -> None:
    global _process
    if _process not in (None, os.getpid()):
        raise RuntimeError("Typst would hang in a forked process: start workers by spawning")
    _process = os.getpid()


def _query(compiler: typst.Compiler, label: str) -> list[Any]:
    found: list[Any] = json.loads(compiler.query(f"<{label}>", field="value"))
    return found
