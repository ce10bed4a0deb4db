"""A trial: the book as it would be after edits that nobody has made yet. Nothing is written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import reduce

from wayfold.app.block_names import name_blocks
from wayfold.app.measuring import keep_measures
from wayfold.app.planning import Answer, answer_story
from wayfold.app.rooms.flatplan_wishes import Wanted
from wayfold.app.session import Session
from wayfold.app.shown import Shown
from wayfold.app.stages import lay_out
from wayfold.app.telling import Told, derive_story
from wayfold.base.findings import Finding
from wayfold.base.progress import Progress
from wayfold.book.edits import apply_edit
from wayfold.book.state import Book
from wayfold.plan.changes import describe_changes
from wayfold.plan.model import Plan
from wayfold.plan.wishes import Wish, WishKind, list_unmet
from wayfold.story.choose import is_wide
from wayfold.story.model import Block, BlockKind


@dataclass(frozen=True, slots=True)
class Trial:
    """What comes of ``wanted``: the book, its story and the planner's answer; ``before`` is now."""

    before: Shown
    wanted: Wanted
    book: Book
    told: Told
    answer: Answer

    @property
    def plan(self) -> Plan | None:
        """The plan it comes to; None where none is possible."""
        return self.answer.result.plan

    @property
    def block(self) -> Block | None:
        """The block that it is about, as the story tells it then."""
        wanted = self.wanted
        for block in self.told.story.blocks:
            if block.id == wanted.block or (wanted.photo and wanted.photo in block.photos):
                return block
        return None

    @property
    def unmet(self) -> Wish | None:
        """The wish that it is for, where it is not met even then."""
        block, plan = self.block, self.plan
        if block is None or plan is None or self.wanted.kind is None:
            return None
        wishes = list_unmet(self.told.story, plan)
        found = (w for w in wishes if w.block == block.id and w.kind is self.wanted.kind)
        return next(found, None)

    @property
    def is_met(self) -> bool:
        """Whether what was wished for comes of it."""
        block, plan = self.block, self.plan
        if plan is None or self.unmet is not None:
            return False
        if self.wanted.photo and self.wanted.kind is WishKind.CENTRE:
            # A picture too narrow for two pages is a hero on a page of its own.
            photo = self.before.results.photos[self.wanted.photo]
            is_hero = block is not None and block.kind is BlockKind.HERO
            return is_hero or not is_wide(self.book, photo)
        if self.wanted.kind is WishKind.FOLDED and block is not None:
            pages = {page.number for page in plan.pages if page.block == block.id}
            return any(end.over in pages for leaf in plan.interleaves for end in leaf.ends)
        return True

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What story and planner say of it that they do not say of the book as it is."""
        said = self.before.results.findings
        found = (*self.told.story.findings, *self.answer.result.findings)
        return tuple(self._word(finding) for finding in found if finding not in said)

    def _word(self, finding: Finding) -> Finding:
        """Say why a block cannot lie on the page wished, where nothing but that is in the way."""
        block, page = self.wanted.block, self.wanted.page
        alone = finding.rule == "plan-conflict" and finding.where == f"block {block}"
        if block is None or page is None or not alone:
            return finding
        later = page > self.before.results.plan.first_page_of(block)
        why = f"does not fill the pages up to {page}" if later else "needs more pages than that"
        return replace(
            finding, message=f"The story keeps its order, and what comes before it {why}."
        )

    @property
    def changes(self) -> tuple[str, ...]:
        """What changes against the book as it is, with the blocks' ids."""
        results = self.before.results
        if self.plan is None:
            return ()
        return describe_changes(self.told.story, results.plan, self.plan, told=results.story)


def try_out(session: Session, wanted: Wanted, progress: Progress) -> Trial:
    """Plan the open book as it would be. Takes as long as planning does; writes nothing."""
    shown, folder = session.shown, session.folder
    results = shown.results
    book = reduce(apply_edit, wanted.edits, results.book)
    memory = session.memory
    measurer = keep_measures(folder, shown.typesetter, memory)
    told = derive_story(folder, book, results.catalogue, measurer, memory)
    answer = answer_story(folder, told.story, book, memory=memory, progress=progress)
    return Trial(shown, wanted, book, told, answer)


def draw_trial(session: Session, trial: Trial, progress: Progress) -> Shown:
    """Lay a trial out, with the pages it would have. Raises UserError where that cannot be."""
    results = lay_out(
        session.folder,
        trial.book,
        trial.before.results.catalogue,
        trial.told,
        trial.answer.require(),
        trial.before.typesetter,
        progress,
        session.memory,
    )
    return trial.before.beside(results, session.memory)


def name_trial(trial: Trial) -> dict[str, str]:
    """Give what to call the blocks, of the story as it is and as it would be."""
    results = trial.before.results
    return {
        **name_blocks(results.story, results.photos),
        **name_blocks(trial.told.story, results.photos),
    }
