"""The stages in their order: from photographs and decisions to laid-out pages and sheets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

from wayfold.app.cover import derive_case, wants_route
from wayfold.app.kept_answers import KeptAnswers
from wayfold.app.looks import look_at
from wayfold.app.maps import KeptMaps, list_placed
from wayfold.app.measuring import keep_measures
from wayfold.app.picture_files import FileList, PictureFiles
from wayfold.app.planning import Planned, keep_or_plan
from wayfold.app.readings import bare_for_paper
from wayfold.app.style_doubts import doubt_style
from wayfold.app.telling import Told, derive_story, index_photos
from wayfold.app.veiled import list_other_openings, measure_veiled, read_lightness
from wayfold.base.collecting import collect_seldom
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding
from wayfold.base.memory import Aside, Memory
from wayfold.base.mends import Mend
from wayfold.base.progress import Progress
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book
from wayfold.case.lettering import CREAM, size_ornament
from wayfold.case.work import CaseWork
from wayfold.drawing.items import Drawing
from wayfold.layout.arrange import LaidBlocks, finish_pages, lay_blocks
from wayfold.layout.model import BookLayout
from wayfold.maps.model import DrawnMap
from wayfold.pages.compose import compose_pages
from wayfold.pages.interleaves import InterleafLeaf, compose_interleaves
from wayfold.pages.leaf_contrast import prove_leaves
from wayfold.pages.washes import PageWash, choose_washes
from wayfold.photos.catalogue import Catalogue, KnownFile
from wayfold.photos.crew import Crew
from wayfold.photos.model import Photo
from wayfold.photos.read import read_photographs
from wayfold.photos.sets import NO_SETS, PhotoSets
from wayfold.plan.model import Plan
from wayfold.press.interleaves import lay_interleaves
from wayfold.press.model import InterleafSheet, PressSheet
from wayfold.press.registering import make_good
from wayfold.press.sheets import lay_sheets
from wayfold.project.cache import RecordCache
from wayfold.project.files import BookFolder
from wayfold.project.store import StoredBook, find_unknown, load_book, remember_photos
from wayfold.story.model import Story
from wayfold.trip.journey.model import Journey
from wayfold.trip.model import Trip
from wayfold.typeset.engine import Typesetter
from wayfold.washes.model import Wash
from wayfold.words.model import Words
from wayfold.words.write import write_words


@dataclass(frozen=True)
class Results:
    """What every stage gave."""

    book: Book
    catalogue: Catalogue
    trip: Trip
    journey: Journey
    story: Story
    planned: Planned
    words: Words
    blocks: LaidBlocks
    layout: BookLayout
    placed: Mapping[str, Drawing]
    """The maps that stand on pages, by the keys of their frames."""
    maps: tuple[DrawnMap, ...]
    washes: tuple[PageWash, ...]
    drawings: tuple[Drawing, ...]
    leaves: tuple[InterleafLeaf, ...]
    sheets: tuple[PressSheet, ...]
    interleaf_sheets: tuple[InterleafSheet, ...]
    route: Drawing | None = None
    """The journey's line for the cover."""
    unclear: tuple[Finding, ...] = ()
    """What on leaves is hard to read over the pages beneath."""
    sets: PhotoSets = NO_SETS
    """Which photographs are nearly alike."""
    style: tuple[Finding, ...] = ()
    """What the style would not do well on paper."""

    @property
    def plan(self) -> Plan:
        """The pages on their sheets."""
        return self.planned.plan

    def compose(self, layout: BookLayout) -> tuple[Drawing, ...]:
        """Give the pages as they would be, were the book laid out so, but for their washes."""
        return compose_pages(self.book, self.story, self.plan, layout, self.placed)

    @cached_property
    def photos(self) -> Mapping[str, Photo]:
        """The photographs by id."""
        return {photo.id: photo for photo in self.catalogue.photos}

    @cached_property
    def painted(self) -> Mapping[str, Wash]:
        """The washes by the names that drawings know them by."""
        return {wash.wash.name: wash.wash for wash in self.washes}

    @cached_property
    def case(self) -> CaseWork:
        """The case, the pocket and the cutting plans."""
        return derive_case(self.book, self.plan, self.catalogue.photos, self.route)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the stages found, in their order."""
        return (
            *self.catalogue.findings,
            *self.trip.findings,
            *self.journey.findings,
            *self.story.findings,
            *self.planned.result.findings,
            *self.words.findings,
            *self.layout.findings,
            *(finding for drawn in self.maps for finding in drawn.findings),
            *self.unclear,
            *self.style,
            *self.case.findings,
        )


def run_stages(
    folder: BookFolder,
    typesetter: Typesetter,
    progress: Progress,
    memory: Memory | None = None,
    pictures: PictureFiles | None = None,
) -> Results:
    """Take the book in ``folder`` from its photographs to its sheets.

    What is in ``memory`` from the last time is not worked out again; without one, what the book's
    cache has of the last run. ``pictures`` knows what lies in the folders of photographs without
    looking. New photographs and a new plan are written down in the folder. Raises UserError where
    a stage cannot go on: no readable photographs, no plan possible, a sheet that does not fit.
    """
    collect_seldom()
    kept = KeptAnswers(folder) if memory is None else None
    memory = memory or Memory(kept)
    memory.begin()
    stored = load_book(folder)
    files = (pictures or PictureFiles()).list(folder.photo_folders(stored.book.photographs))
    catalogue = memory.recall(
        _read_looks, folder, stored.book.photographs, stored.known, files, Aside(progress)
    )
    unknown = memory.recall(find_unknown, stored.known, catalogue.photos)
    remember_photos(folder, stored.known, unknown)
    results = derive_results(folder, stored.book, catalogue, typesetter, progress, memory)
    if kept is not None:
        kept.keep(memory)
    return results


def _read_looks(
    folder: BookFolder,
    names: tuple[str, ...],
    known: Mapping[str, KnownFile],
    _files: FileList,
    progress: Aside[Progress],
) -> Catalogue:
    return _read_and_look(folder, names, known, progress.value)


def read_looks(folder: BookFolder, stored: StoredBook, progress: Progress) -> Catalogue:
    """Read all photographs and look at them. Raises as ``read_catalogue`` does."""
    return _read_and_look(folder, stored.book.photographs, stored.known, progress)


def _read_and_look(
    folder: BookFolder, names: tuple[str, ...], known: Mapping[str, KnownFile], progress: Progress
) -> Catalogue:
    with Crew() as crew:
        catalogue = _read_catalogue(folder, names, known, progress, crew)
        return look_at(folder, catalogue, progress, crew)


def read_catalogue(folder: BookFolder, stored: StoredBook, progress: Progress) -> Catalogue:
    """Read all photographs. Raises UserError when there is none to make a book of."""
    with Crew() as crew:
        return _read_catalogue(folder, stored.book.photographs, stored.known, progress, crew)


def _read_catalogue(
    folder: BookFolder,
    names: tuple[str, ...],
    known: Mapping[str, KnownFile],
    progress: Progress,
    crew: Crew,
) -> Catalogue:
    folders, cache = folder.photo_folders(names), RecordCache(folder.cache, "photos")
    catalogue = read_photographs(folders, known, cache, progress, crew)
    if not catalogue.photos:
        unread = "".join(f"\n  {f.where}: {f.message}" for f in catalogue.findings[:10])
        raise UserError(
            "There are no photographs to make a book of."
            + (f" What was found could not be read:{unread}" if unread else ""),
            where=", ".join(str(f) for f in folders),
            remedy=f"Put pictures there, or name their folder: {Mend.PHOTOGRAPHS}.",
        )
    return catalogue


def _read_licences(_fonts: str, typesetter: Aside[Typesetter]) -> tuple[tuple[str, str], ...]:
    return tuple(typesetter.value.read_licences().items())


def _lay_paper(
    book: Book, plan: Plan, inked: Mapping[tuple[int, int], tuple[bool, bool]]
) -> tuple[tuple[PressSheet, ...], tuple[InterleafSheet, ...]]:
    """Give the sheets of paper, and the translucent ones, as they are to be printed."""
    laid = lay_sheets(
        plan.gatherings,
        book.trim,
        book.bleed,
        book.paper,
        book.printer,
        book.binding,
        plan.interleaves,
        book.translucent,
    )
    leaf_sheets = lay_interleaves(
        plan, book.trim, book.paper, book.translucent, book.printer, book.binding, inked
    )
    size, duplex = laid[0].size, book.printer.duplex
    return (
        make_good(laid, book.registration, size, duplex),
        make_good(leaf_sheets, book.registration, size, duplex),
    )


def _list_inked(leaves: Sequence[InterleafLeaf]) -> Mapping[tuple[int, int], tuple[bool, bool]]:
    return {(f.interleaf, f.end): (bool(f.recto.items), bool(f.verso.items)) for f in leaves}


def derive_results(
    folder: BookFolder,
    book: Book,
    catalogue: Catalogue,
    typesetter: Typesetter,
    progress: Progress,
    memory: Memory | None = None,
) -> Results:
    """Run the stages from the trip to the sheets; of them only maps may take long."""
    memory = memory or Memory()
    told = derive_story(folder, book, catalogue, keep_measures(folder, typesetter, memory), memory)
    planned = keep_or_plan(folder, told.story, book, memory=memory)
    return lay_out(folder, book, catalogue, told, planned, typesetter, progress, memory)


def lay_out(
    folder: BookFolder,
    book: Book,
    catalogue: Catalogue,
    told: Told,
    planned: Planned,
    typesetter: Typesetter,
    progress: Progress,
    memory: Memory | None = None,
) -> Results:
    """Run the stages from the plan to the sheets."""
    memory = memory or Memory()
    photos = memory.recall(index_photos, catalogue.photos)
    measurer = keep_measures(folder, typesetter, memory)
    journey, story, plan = told.journey, told.story, planned.plan
    known = memory.recall_lasting(_read_licences, typesetter.fonts.key, Aside(typesetter))
    licences = dict(known)
    words = write_words(book, story, plan, photos, journey, licences, memory)
    blocks = lay_blocks(book, story, plan, words, photos, measurer, memory)
    layout = finish_pages(blocks, memory=memory)
    maps = KeptMaps(folder, book, journey, typesetter, memory)
    drawn = maps.draw_overview(plan) | maps.draw_towns(story, progress)
    route = maps.draw_cover(size_ornament(book), CREAM) if wants_route(book, journey) else None
    read = memory.recall(read_lightness, folder)
    lightness = measure_veiled(read, layout, plan, photos)
    # A picture under a leaf may be cropped anew for the words over it, so pages come after.
    leaves, layout = compose_interleaves(
        book, story, plan, words, layout, measurer, lightness, photos, maps.find_country, memory
    )
    washes = choose_washes(book, story, plan, layout, photos, measurer, memory)
    drawings = compose_pages(book, story, plan, layout, drawn, washes, memory)
    other = partial(list_other_openings, read, book, story, plan, photos)
    unclear = prove_leaves(leaves, layout, lightness, sheet_of(book.translucent), other, memory)
    sheets, interleaf_sheets = memory.recall(
        _lay_paper, bare_for_paper(book), plan, _list_inked(leaves)
    )
    shown = (*drawn.values(), *((route,) if route else ()), *list_placed(leaves))
    return Results(
        book,
        catalogue,
        told.trip,
        journey,
        story,
        planned,
        words,
        blocks,
        layout,
        drawn,
        maps.list_shown(shown),
        washes,
        drawings,
        leaves,
        sheets,
        interleaf_sheets,
        route,
        unclear,
        told.sets,
        style=doubt_style(book, folder, typesetter.fonts),
    )
