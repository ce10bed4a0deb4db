"""Print derivatives: exactly the crop, at the pixels that its place on the page can hold."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from wayfold.base.findings import Finding, Severity
from wayfold.base.geometry import Rect
from wayfold.base.progress import Progress
from wayfold.base.units import ppi_of, px_from_mm
from wayfold.disk.placing import write_whole
from wayfold.photos import profiles
from wayfold.photos.colour import prepare_for_print, prepare_for_screen
from wayfold.photos.crew import Crew, Lost
from wayfold.photos.decode import measure_part, open_part
from wayfold.photos.encode import encode_for_print, encode_for_screen
from wayfold.photos.kinds import Kind
from wayfold.photos.model import Photo, SizePx
from wayfold.photos.raster_pixels import explain_vips, import_vips
from wayfold.photos.refusals import Refusal, RefusedError, refuse_file, refuse_lost, refuse_memory
from wayfold.photos.sharpen import sharpen_for_paper, sharpen_for_screen
from wayfold.photos.small_copy import SMALL_PX, fit_size

T = TypeVar("T")

_MAX_SIDE_PX = 65_500  # JPEG's own limit is 65,535


@dataclass(frozen=True, slots=True)
class DerivativeJob:
    """One picture to prepare for print.

    ``crop`` is in fractions of the upright picture, ``width`` and ``height`` are the millimetres
    it takes on the page, ``target`` the JPEG file to write. ``miniature``, where it is given, is
    the file for the same picture at ``SMALL_PX``, in sRGB, for drawings of whole pages.
    """

    photo: Photo
    crop: Rect
    width: float
    height: float
    ppi: float
    target: Path
    miniature: Path | None = None


def make_derivatives(
    jobs: Sequence[DerivativeJob], progress: Progress, workers: int = 2
) -> tuple[Finding, ...]:
    """Write the print JPEG of every job; give a finding for each that could not be made.

    Each file holds the crop at ``ppi`` as placed, or at the photograph's own pixels where it has
    fewer (nothing is ever enlarged), sharpened for matte paper, in the photograph's own RGB space
    with its profile and without any other metadata. The same job gives the same bytes.
    Raises UserError where the target's folder cannot be written to, CancelledError when stopped.
    """
    findings: list[Finding] = []
    with progress.task("Preparing pictures for print", len(jobs)) as task, Crew(workers) as crew:
        for outcome in crew.run(write_derivative, jobs, portion=1):
            refusal = refuse_lost() if isinstance(outcome.result, Lost) else outcome.result
            if refusal is not None:
                findings.append(_judge(outcome.item.photo, refusal))
            task.advance()
    return tuple(sorted(findings, key=lambda f: (f.where, f.rule)))


def choose_size(photo: Photo, crop: Rect, width: float, height: float, ppi: float) -> SizePx:
    """Give the pixels of a derivative: ``width`` x ``height`` mm at ``ppi``, never enlarged."""
    has = measure_part(photo.size, crop)
    across, down = round(px_from_mm(width, ppi)), round(px_from_mm(height, ppi))
    if across < has.width_px and down < has.height_px:
        return SizePx(max(across, 1), max(down, 1))
    return fit_size(has, _MAX_SIDE_PX)


def write_derivative(job: DerivativeJob) -> Refusal | None:
    """Do one job in this process. Raises UserError where the target cannot be written."""
    size = choose_size(job.photo, job.crop, job.width, job.height, job.ppi)
    ppi = min(job.ppi, ppi_of(size.width_px, job.width))

    def render() -> tuple[bytes, bytes]:
        image = prepare_for_print(open_part(job.photo, job.crop, size), job.photo.profile)
        image = sharpen_for_paper(image, ppi)
        if job.miniature is None:
            return encode_for_print(image, ppi), b""
        # Made here, of pixels at hand: decoding the print picture again takes twice as long.
        image = image.copy_memory()
        return encode_for_print(image, ppi), encode_for_screen(shrink_to_miniature(image))

    data = _attempt(job.photo, render)
    if isinstance(data, Refusal):
        return data
    if job.miniature is not None:
        write_whole(job.miniature, data[1], lasting=False)
    write_whole(job.target, data[0], lasting=False)
    return None


def make_preview(photo: Photo, crop: Rect, longest_px: int, target: Path) -> Finding | None:
    """Write an sRGB JPEG for the screen, its longer side at most ``longest_px``.

    Gives a finding where the photograph cannot be read. Raises UserError where the target's
    folder cannot be written to.
    """
    has = measure_part(photo.size, crop)
    size = fit_size(has, longest_px)

    def render() -> bytes:
        image = prepare_for_screen(open_part(photo, crop, size), photo.profile)
        # Pixel for pixel it stays as it is, so that its own sharpness is seen.
        return encode_for_screen(image if size == has else sharpen_for_screen(image))

    data = _attempt(photo, render)
    if isinstance(data, Refusal):
        return _judge(photo, data)
    write_whole(target, data, lasting=False)
    return None


def shrink_to_miniature(image: Any) -> Any:
    """Give a picture in sRGB, its longer side at most ``SMALL_PX``."""
    small = image.thumbnail_image(SMALL_PX, height=SMALL_PX, size="down")
    return prepare_for_screen(small, profiles.SRGB)


def _attempt(photo: Photo, render: Callable[[], T]) -> T | Refusal:
    pyvips = import_vips()
    try:
        return render()
    except RefusedError as error:
        return error.refusal
    except MemoryError:
        return refuse_memory()
    except OSError as error:
        return refuse_file(error)
    except pyvips.Error as error:
        try:
            Path(photo.path).open("rb").close()
        except OSError as reason:  # The imaging library only says that it could not.
            return refuse_file(reason)
        return explain_vips(error, photo.path, Kind(photo.file_format))


def _judge(photo: Photo, refusal: Refusal) -> Finding:
    return Finding(refusal.rule, Severity.BLOCK, photo.path, refusal.message, refusal.remedy)
