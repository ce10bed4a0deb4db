"""The stages in their order: from photographs and decisions to laid-out pages and sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, partial

from wayfold.app.cover import derive_case, wants_route
from wayfold.app.journey import derive_journey
from wayfold.app.looks import look_at
from wayfold.app.maps import KeptMaps, wants_overview
from wayfold.app.measuring import KeptMeasurer
from wayfold.app.planning import Planned, keep_or_plan
from wayfold.app.sets import list_sets
from wayfold.app.style_doubts import doubt_style
from wayfold.app.veiled import list_other_openings, measure_veiled, read_lightness
from wayfold.base.errors import UserError
from wayfold.base.findings import Finding
from wayfold.base.progress import Progress
from wayfold.book.see_through import sheet_of
from wayfold.book.state import Book
from wayfold.case.lettering import CREAM, size_ornament
from wayfold.case.work import CaseWork
from wayfold.drawing.items import Drawing
from wayfold.drawing.text import TextMeasurer
from wayfold.layout.account import count_account_pages
from wayfold.layout.arrange import LaidBlocks, finish_pages, lay_blocks
from wayfold.layout.model import BookLayout
from wayfold.layout.tables import count_itinerary_pages
from wayfold.layout.texts import count_text_pages
from wayfold.maps.model import DrawnMap
from wayfold.pages.compose import compose_pages
from wayfold.pages.interleaves import InterleafLeaf, compose_interleaves
from wayfold.pages.leaf_contrast import prove_leaves
from wayfold.pages.washes import PageWash, choose_washes
from wayfold.photos.model import Catalogue, Photo
from wayfold.photos.read import read_photographs
from wayfold.photos.sets import NO_SETS, PhotoSets
from wayfold.plan.model import Plan
from wayfold.press.interleaves import lay_interleaves
from wayfold.press.model import InterleafSheet, PressSheet
from wayfold.press.registering import make_good
from wayfold.press.sheets import lay_sheets
from wayfold.project.cache import DiskCache, NumberCache
from wayfold.project.files import BookFolder
from wayfold.project.store import StoredBook, load_book, remember_photos
from wayfold.story.model import Story
from wayfold.story.tell import tell_story
from wayfold.trip.journey.model import Journey
from wayfold.trip.model import Trip
from wayfold.typeset.engine import Typesetter
from wayfold.washes.model import Wash
from wayfold.words.colophon import draft_colophon
from wayfold.words.itinerary import ITINERARY, wants_itinerary, write_itinerary
from wayfold.words.model import Words
from wayfold.words.texts import COLOPHON, style_texts
from wayfold.words.write import write_words


@dataclass(frozen=True, slots=True)
class Told:
    """What the story is told of, and the story."""

    trip: Trip
    journey: Journey
    sets: PhotoSets
    story: Story


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


def run_stages(folder: BookFolder, typesetter: Typesetter, progress: Progress) -> Results:
    """Take the book in ``folder`` from its photographs to its sheets.

    New photographs and a new plan are written down in the folder. Raises UserError where a stage
    cannot go on: no readable photographs, no plan possible, a sheet that does not fit.
    """
    stored = load_book(folder)
    catalogue = look_at(folder, read_catalogue(folder, stored, progress), progress)
    remember_photos(folder, stored.known, catalogue.photos)
    return derive_results(folder, stored.book, catalogue, typesetter, progress)


def read_catalogue(folder: BookFolder, stored: StoredBook, progress: Progress) -> Catalogue:
    """Read all photographs. Raises UserError when there is none to make a book of."""
    folders = folder.photo_folders(stored.book.photographs)
    records = DiskCache(folder.cache, "photos")
    catalogue = read_photographs(folders, stored.known, records, progress)
    if not catalogue.photos:
        unread = "".join(f"\n  {f.where}: {f.message}" for f in catalogue.findings[:10])
        raise UserError(
            "There are no photographs to make a book of."
            + (f" What was found could not be read:{unread}" if unread else ""),
            where=", ".join(str(f) for f in folders),
            remedy="Put pictures there, or name their folder in book.toml under photographs.",
        )
    return catalogue


def keep_measures(folder: BookFolder, typesetter: Typesetter) -> TextMeasurer:
    """Give a measurer that keeps in the book's cache what it has measured."""
    return KeptMeasurer(typesetter, NumberCache(folder.cache, "measures"))


def derive_story(
    folder: BookFolder, book: Book, catalogue: Catalogue, measurer: TextMeasurer
) -> Told:
    """Give the trip, the journey of it, the sets of like pictures, and the story told of it."""
    photos = {photo.id: photo for photo in catalogue.photos}
    trip, journey = derive_journey(folder, book, catalogue)
    texts = dict(style_texts(book))
    if COLOPHON not in texts:
        texts[COLOPHON] = draft_colophon(book, [p.credit for p in catalogue.photos if p.credit])
    text_pages = dict(count_text_pages(texts, book, measurer))
    text_pages |= count_account_pages(texts, book, measurer)
    if wants_itinerary(book, journey):
        itinerary = write_itinerary(book, journey)
        text_pages[ITINERARY] = count_itinerary_pages(itinerary, book, measurer)
    overview = wants_overview(book, journey)
    sets = list_sets(catalogue.photos)
    story = tell_story(
        trip,
        book,
        photos,
        text_pages,
        overview=overview,
        sets=sets,
        read_lightness=read_lightness(folder),
    )
    return Told(trip, journey, sets, story)


def derive_results(
    folder: BookFolder,
    book: Book,
    catalogue: Catalogue,
    typesetter: Typesetter,
    progress: Progress,
) -> Results:
    """Run the stages from the trip to the sheets; of them only maps may take long."""
    told = derive_story(folder, book, catalogue, keep_measures(folder, typesetter))
    planned = keep_or_plan(folder, told.story, book)
    return lay_out(folder, book, catalogue, told, planned, typesetter, progress)


def lay_out(
    folder: BookFolder,
    book: Book,
    catalogue: Catalogue,
    told: Told,
    planned: Planned,
    typesetter: Typesetter,
    progress: Progress,
) -> Results:
    """Run the stages from the plan to the sheets."""
    photos = {photo.id: photo for photo in catalogue.photos}
    measurer = keep_measures(folder, typesetter)
    journey, story, plan = told.journey, told.story, planned.plan
    words = write_words(book, story, plan, photos, journey, typesetter.read_licences())
    blocks = lay_blocks(book, story, plan, words, photos, measurer)
    layout = finish_pages(blocks)
    maps = KeptMaps(folder, book, journey, typesetter)
    drawn = maps.draw_overview(plan) | maps.draw_towns(story, progress)
    route = maps.draw_cover(size_ornament(book), CREAM) if wants_route(book, journey) else None
    read = read_lightness(folder)
    lightness = measure_veiled(read, layout, plan, photos)
    # A picture under a leaf may be cropped anew for the words over it, so pages come after.
    leaves, layout = compose_interleaves(
        book, story, plan, words, layout, measurer, lightness, photos, maps.draw_country
    )
    washes = choose_washes(book, story, plan, layout, photos, measurer)
    drawings = compose_pages(book, story, plan, layout, drawn, washes)
    other = partial(list_other_openings, read, book, story, plan, photos)
    unclear = prove_leaves(leaves, layout, lightness, sheet_of(book.translucent), other)
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
    inked = {(f.interleaf, f.end): (bool(f.recto.items), bool(f.verso.items)) for f in leaves}
    leaf_sheets = lay_interleaves(
        plan, book.trim, book.paper, book.translucent, book.printer, book.binding, inked
    )
    sheets = make_good(laid, book.registration, laid[0].size, book.printer.duplex)
    interleaf_sheets = make_good(leaf_sheets, book.registration, laid[0].size, book.printer.duplex)
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
        maps.list_shown(leaves),
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
