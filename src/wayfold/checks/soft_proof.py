"""A page as a printer's profile has it: how it will look, what it cannot print, how much ink."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageCms

from wayfold.base.errors import NotFoundError, UserError
from wayfold.base.mends import Mend

OFF = 6.0
"""From this difference (CIE 1976 ΔE) a colour counts as lost: it is seen side by side."""
INK_LIMIT = 300.0
"""Ink (per cent, all inks together) that most papers bear (common practice, no single source)."""
HEAVY = 0.02
"""A page is ink-heavy where so much of it goes over the limit."""
LOST = 0.05
"""So much of a page out of gamut is worth telling."""
QUIET = 0.35
"""How strongly the page shows in the difference map."""
SIGNAL = (208, 32, 96)

Values = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SoftProof:
    """A page as printed, a map of what is lost, and what was measured.

    ``lost`` is the share (0-1) of the page out of gamut, ``worst`` the largest difference (ΔE).
    ``ink`` is the mean ink in per cent and ``heavy`` the share over ``INK_LIMIT``; both are None
    for profiles that take RGB: what inks such a printer mixes only its driver knows.
    """

    shown: Image.Image
    difference: Image.Image
    lost: float
    worst: float
    ink: float | None
    heavy: float | None


class PrinterProfile:
    """A printer's ICC profile (ISO 15076-1), ready to prove pages with."""

    def __init__(self, data: bytes, where: str) -> None:
        """Read a profile. Raises UserError where it is none, or none of a printer's colours."""
        try:
            self._profile = ImageCms.ImageCmsProfile(io.BytesIO(data))
            facts = self._profile.profile
            space, kind = facts.xcolor_space.strip(), facts.device_class.strip()
        except (ImageCms.PyCMSError, OSError, ValueError) as error:
            raise _refuse("This is no colour profile.", where) from error
        if space not in ("RGB", "CMYK") or kind not in ("prtr", "mntr", "spac"):
            raise _refuse(f"This profile is for {space} ({kind}), not for a printer.", where)
        self.space = space
        self.name = _read_name(facts) or Path(where).name
        try:
            self._prepare()
        except ImageCms.PyCMSError as error:
            raise _refuse(f"This profile does not lead both ways ({error}).", where) from error

    @staticmethod
    def read(path: Path) -> PrinterProfile:
        """Read a file. Raises NotFoundError and UserError."""
        try:
            return PrinterProfile(path.read_bytes(), str(path))
        except FileNotFoundError as error:
            raise NotFoundError(
                "There is no such colour profile.",
                where=str(path),
                remedy=f"Say where it lies: {Mend.PROFILE}.",
            ) from error
        except OSError as error:
            raise _refuse(f"This profile cannot be read ({error.strerror}).", str(path)) from error

    def prove(self, page: Image.Image) -> SoftProof:
        """Prove a page in sRGB: relative colorimetric, with black-point compensation.

        What is lost is measured with that compensation both ways, so that darks, which all become
        a little lighter by design, do not count: the page's Lab against that of what comes back.
        """
        page = page.convert("RGB")
        inks = _apply(page, self._to_inks)
        before = _read_lab(_apply(page, self._to_lab))
        after = _read_lab(_apply(inks, self._back))
        away = np.sqrt(((before - after) ** 2).sum(axis=2))
        lost = away > OFF
        ink, heavy = self._weigh(inks)
        return SoftProof(
            _apply(page, self._to_screen),
            _draw_difference(page, lost),
            float(lost.mean()),
            float(away.max()),
            ink,
            heavy,
        )

    def _weigh(self, inks: Image.Image) -> tuple[float | None, float | None]:
        if self.space != "CMYK":
            return None, None
        total = np.asarray(inks, dtype=np.float64).sum(axis=2) / 2.55
        return float(total.mean()), float((total > INK_LIMIT).mean())

    def _prepare(self) -> None:
        screen, lab = ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB")
        relative = ImageCms.Intent.RELATIVE_COLORIMETRIC
        compensated = ImageCms.Flags.BLACKPOINTCOMPENSATION
        none = ImageCms.Flags.NONE
        printer, space = self._profile, self.space
        build = ImageCms.buildTransform
        self._to_inks = build(screen, printer, "RGB", space, relative, compensated)
        self._to_lab = build(screen, lab, "RGB", "LAB", relative, none)
        self._back = build(printer, lab, space, "LAB", relative, compensated)
        # Absolute on the screen's side: the paper's own white and the depth of its black are seen.
        self._to_screen = ImageCms.buildProofTransform(
            screen,
            screen,
            printer,
            "RGB",
            "RGB",
            ImageCms.Intent.ABSOLUTE_COLORIMETRIC,
            relative,
            ImageCms.Flags.SOFTPROOFING | compensated,
        )


def _read_name(facts: Any) -> str:
    try:
        return str(facts.profile_description or "").strip()
    except ValueError:  # It is to be ASCII; a profile whose name is spoilt may well be whole.
        return ""


def _apply(image: Image.Image, transform: Any) -> Image.Image:
    made = ImageCms.applyTransform(image, transform)
    if made is None:
        raise AssertionError("a transform that is not in place gives a picture")
    return made


def _read_lab(image: Image.Image) -> Values:
    """L* 0-100, a* and b* about 0, of 8-bit Lab."""
    raw = np.asarray(image)
    lightness = raw[..., 0].astype(np.float64) * (100.0 / 255.0)
    opponents = raw[..., 1:].astype(np.int8).astype(np.float64)
    return np.dstack([lightness, opponents])


def _draw_difference(page: Image.Image, lost: npt.NDArray[np.bool_]) -> Image.Image:
    """The page in pale grey, what is lost in one strong colour."""
    grey = np.asarray(page.convert("L"), dtype=np.float64)
    pale = 255.0 - QUIET * (255.0 - grey)
    drawn = np.repeat(pale[..., None], 3, axis=2)
    drawn[lost] = SIGNAL
    return Image.fromarray(np.rint(drawn).astype(np.uint8))


def _refuse(what: str, where: str) -> UserError:
    return UserError(
        what,
        where=where,
        remedy="Take the ICC profile (.icc, .icm) that the printer's or paper's maker gives for "
        "this paper, or one measured from your own print.",
    )
