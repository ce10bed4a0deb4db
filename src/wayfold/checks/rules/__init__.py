"""One module a rule: each looks at the finished book and says what a maker would object to."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wayfold.base.findings import Finding
from wayfold.checks.naming import name_in_finding
from wayfold.checks.rules.alike_side_by_side import find_alike_side_by_side
from wayfold.checks.rules.almost_aligned import find_almost_aligned
from wayfold.checks.rules.chapter_colours import find_odd_colours
from wayfold.checks.rules.chapter_dates import find_chapters_out_of_order
from wayfold.checks.rules.contents_pages import find_wrong_contents
from wayfold.checks.rules.credit_lines import find_missing_credits
from wayfold.checks.rules.date_style import find_other_dates
from wayfold.checks.rules.doubled_captions import find_doubled_captions
from wayfold.checks.rules.faces_kept import find_lost_faces
from wayfold.checks.rules.gathering_thickness import find_thick_gatherings
from wayfold.checks.rules.grain import find_wrong_grain
from wayfold.checks.rules.graininess import find_grainy_pictures
from wayfold.checks.rules.heading_levels import find_odd_headings
from wayfold.checks.rules.missing_photograph import find_missing_photographs
from wayfold.checks.rules.numbers_and_units import find_odd_numbers
from wayfold.checks.rules.overlapping_pictures import find_overlapping_pictures
from wayfold.checks.rules.own_crops import find_own_crops
from wayfold.checks.rules.page_numbers import find_odd_folios
from wayfold.checks.rules.picture_edges import find_bad_edges
from wayfold.checks.rules.place_spelling import find_odd_spellings
from wayfold.checks.rules.plan_kept import find_broken_plans
from wayfold.checks.rules.pointing_words import find_vain_pointers
from wayfold.checks.rules.printed_pictures import find_outgrown_pictures
from wayfold.checks.rules.quotes_and_dashes import find_mixed_marks
from wayfold.checks.rules.resolution import find_coarse_pictures
from wayfold.checks.rules.slivers import find_slivers
from wayfold.checks.rules.text_contrast import find_faint_texts
from wayfold.checks.rules.text_near_edge import find_text_near_edges
from wayfold.checks.rules.text_on_picture import find_text_on_pictures
from wayfold.checks.rules.type_sizes import find_odd_sizes
from wayfold.checks.rules.uneven_borders import find_uneven_borders
from wayfold.checks.rules.used_twice import find_photographs_used_twice
from wayfold.checks.rules.washes import find_bad_washes
from wayfold.checks.rules.white_edges import find_white_edges
from wayfold.checks.subject import Subject

Rule = Callable[[Subject], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    find_missing_photographs,
    find_coarse_pictures,
    find_grainy_pictures,
    find_text_near_edges,
    find_text_on_pictures,
    find_faint_texts,
    find_overlapping_pictures,
    find_photographs_used_twice,
    find_alike_side_by_side,
    find_slivers,
    find_lost_faces,
    find_own_crops,
    find_bad_edges,
    find_almost_aligned,
    find_uneven_borders,
    find_odd_sizes,
    find_odd_folios,
    find_odd_colours,
    find_other_dates,
    find_odd_spellings,
    find_mixed_marks,
    find_odd_numbers,
    find_odd_headings,
    find_vain_pointers,
    find_doubled_captions,
    find_chapters_out_of_order,
    find_wrong_contents,
    find_missing_credits,
    find_broken_plans,
    find_thick_gatherings,
    find_wrong_grain,
    find_white_edges,
    find_outgrown_pictures,
    find_bad_washes,
)


PAGE_RULES: tuple[Rule, ...] = (
    find_coarse_pictures,
    find_grainy_pictures,
    find_text_near_edges,
    find_text_on_pictures,
    find_faint_texts,
    find_overlapping_pictures,
    find_alike_side_by_side,
    find_slivers,
    find_lost_faces,
    find_own_crops,
    find_bad_edges,
    find_almost_aligned,
    find_bad_washes,
)
"""Those of them that look at two facing pages at a time and want no others."""


def check_book(subject: Subject) -> tuple[Finding, ...]:
    """Give what the stages found and what the rules find, each once, in the order of the rules."""
    return _check(subject, RULES)


def check_pages(subject: Subject) -> tuple[Finding, ...]:
    """Give what the stages found, and what can be found on some pages without the others.

    Quick enough to be asked after every edit of a page.
    """
    return _check(subject, PAGE_RULES)


def _check(subject: Subject, rules: tuple[Rule, ...]) -> tuple[Finding, ...]:
    told = (name_in_finding(subject, finding) for finding in subject.earlier)
    found = (*told, *(finding for rule in rules for finding in rule(subject)))
    return tuple(dict.fromkeys(found))
