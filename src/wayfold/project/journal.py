"""Every earlier state of the person's decisions: what changed, when, and back again.

What files held is kept by content (``journal_contents``). An entry names the files it changed with
their contents before and after. To undo is itself an entry that puts contents back;
nothing is ever rewritten or taken from the list, so no state is lost.

An edit is made on a draft, a copy of the decisions. What came of it is written beside the files it
is to replace; then it is noted; then everything takes its place (``journal_placing``). The note is
the moment: a program that ends before it leaves the book wholly as it was, and of one that ends
after it the next look finishes the work. To undo, to redo, and to withdraw a change that no book
can be made of, go the same way. One program at a time changes a book; others wait.
"""

from __future__ import annotations

import contextlib
import shutil
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType

from wayfold.base.errors import ConflictError, NotFoundError, UserError
from wayfold.base.hashing import hash_bytes
from wayfold.base.mends import Mend
from wayfold.disk.refusals import explain_os_errors
from wayfold.project.copies import list_noted, pick_others
from wayfold.project.files import BookFolder
from wayfold.project.journal_contents import Rewriting
from wayfold.project.journal_notes import Contents, Entry, Kind, open_notes
from wayfold.project.journal_others import find_other_journals, list_unknown
from wayfold.project.journal_placing import (
    Staged,
    drop_all,
    finish,
    place_all,
    stage_all,
)
from wayfold.project.lock import hold_lock

NOTHING: Mapping[Path, bytes | None] = MappingProxyType({})


class Journal:
    """The changes of one book, in their order."""

    def __init__(self, folder: BookFolder) -> None:
        """Read what was noted of the book in ``folder``."""
        self._folder = folder
        self._draft = BookFolder(folder.private / "draft", is_draft=True)
        self._home = folder.private / "history"
        self._notes = open_notes(self._home)
        self._fresh: dict[str, bytes] = {}
        """What files hold that is not kept yet, by its identity."""
        self.own: Entry | None = None
        """The last change that was made through this."""
        with explain_os_errors(self._home):
            self._notes.catch_up()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All that was noted, the oldest first."""
        return self._notes.entries

    @property
    def count(self) -> int:
        """How many changes were noted."""
        return self._notes.count

    def next_turns(self) -> tuple[Entry | None, Entry | None]:
        """Give what would be undone, and what would be done again; None where nothing would."""
        done, undone = self._notes.stacks
        return (done[-1] if done else None, undone[-1] if undone else None)

    def list_earlier(self, file: Path) -> Iterator[bytes]:
        """Give what a file once held, the latest first; what cannot be read is passed over."""
        name = file.relative_to(self._folder.root).as_posix()
        had = [entry.after[name] for entry in reversed(self.entries) if name in entry.after]
        for identity in dict.fromkeys(had):
            if identity:
                with contextlib.suppress(UserError):
                    yield self._notes.contents.read(identity)

    def read_states(self, entry: Entry) -> tuple[dict[str, bytes | None], dict[str, bytes | None]]:
        """Give what the files of a change held before and after it; None where there was none.

        Raises UserError where that is not kept any more.
        """
        return self._read_contents(entry.before), self._read_contents(entry.after)

    def catch_up(self) -> None:
        """Finish what a power cut broke off, and note what was changed by hand meanwhile."""
        with self._alone():
            self._catch_up()

    def finish(self) -> None:
        """Finish what a power cut broke off."""
        with self._alone():
            self._finish()

    def _finish(self) -> None:
        shutil.rmtree(self._draft.root, ignore_errors=True)
        last = self._notes.last
        if last is not None:
            finish(self._folder, self._notes.staged, lambda name: self._is_wanted(last, name))

    def _catch_up(self) -> None:
        self._finish()
        self._take_over()
        known, now = self._notes.known, self._look(self._folder)
        changed = {name for name in {*known, *now} if known.get(name) != now.get(name)}
        if not changed:
            return
        kind = Kind.BY_HAND if self._notes.count else Kind.NOTED
        # Another version that comes or goes changes nothing of the book: it is not undone.
        others = pick_others(self._folder, changed)
        for kind_of, what, names in (
            (Kind.NOTED, "another version of a file", changed & others),
            (kind, "changed by hand", changed - others),
        ):
            if names:
                before, after = ({n: side.get(n) for n in sorted(names)} for side in (known, now))
                self._append(kind_of, what, before, after)

    def _take_over(self) -> None:
        """Take over what another machine's journal notes, where one was carried here."""
        for path in find_other_journals(self._home):
            for entry, lacking in list_unknown(path, self._notes):
                self._fresh |= lacking
                told = dict(self._keep_contents(entry.before, entry.after))
                noted = replace(entry, number=self._notes.count + 1, kind=Kind.ELSEWHERE, of=None)
                self._notes.append(noted, told, {})
            with explain_os_errors(path):
                path.unlink(missing_ok=True)

    def _is_wanted(self, last: Entry, name: str) -> bool:
        """Whether a file still is as the last change found it, so that it may be finished."""
        if name not in last.after:
            return True  # it goes with the change, and is no decision
        return self._identify(name) in (last.before[name], last.after[name])

    def _identify(self, name: str) -> str | None:
        """Give the identity of what a file holds now; None where there is none."""
        path = self._folder.root / name
        return hash_bytes(path.read_bytes()) if path.is_file() else None

    @contextlib.contextmanager
    def change(
        self,
        what: str,
        kind: Kind = Kind.EDIT,
        beside: Mapping[Path, bytes | None] = NOTHING,
    ) -> Iterator[BookFolder]:
        """Give a draft of the decisions; what the block makes of it is noted, and becomes the book.

        ``what`` says the change in a few words. Files ``beside`` that are no decisions get their
        contents (None takes one away) in the same moment; what the block puts there counts too.
        Where the block raises, nothing changes.
        """
        with self._alone():
            self._catch_up()
            with self._open_draft() as draft:
                # What a hand saved since the last look is in the draft, and is kept with it.
                begun = self._look(draft)
                yield draft
                now = self._look(draft)
                names = sorted(n for n in {*begun, *now} if begun.get(n) != now.get(n))
                wanted = {n: (draft.root / n).read_bytes() if now.get(n) else None for n in names}
            wanted |= {
                path.relative_to(self._folder.root).as_posix(): beside[path] for path in beside
            }
            if wanted:
                before, after = ({n: side.get(n) for n in names} for side in (begun, now))
                self.own = self._commit(kind, what, before, after, wanted)

    @contextlib.contextmanager
    def _open_draft(self) -> Iterator[BookFolder]:
        draft = self._draft
        files = list_noted(self._folder)
        try:
            with explain_os_errors(self._folder.book_file, sum(p.stat().st_size for p in files)):
                for path in files:
                    copy = draft.root / path.relative_to(self._folder.root)
                    copy.parent.mkdir(parents=True, exist_ok=True)
                    shutil.copyfile(path, copy)
            yield draft
        finally:
            shutil.rmtree(draft.root, ignore_errors=True)

    def withdraw(self, withdrawn: Entry) -> None:
        """Take a change back, with what Wayfold noted on its account, as if it had never been.

        It can be neither undone nor done again. What others changed since stays as they left it.
        """
        with self._alone():
            self._catch_up()
            later = (e for e in self.entries if e.number > withdrawn.number)
            own = [withdrawn, *(e for e in later if e.kind is Kind.NOTED)]
            before, after = dict[str, str | None](), dict[str, str | None]()
            for entry in own:
                before = {**entry.before, **before}
                after.update(entry.after)
            now = self._look(self._folder)
            # Another version that came meanwhile is nobody's to take away.
            came = pick_others(self._folder, before) - withdrawn.before.keys()
            found = {n: after[n] for n in before if n not in came and now.get(n) == after[n]}
            before = {name: before[name] for name in found}
            wanted = self._read_contents(before)
            number = withdrawn.number
            self._commit(Kind.WITHDRAWN, withdrawn.what, found, before, wanted, number)

    @contextlib.contextmanager
    def _alone(self) -> Iterator[None]:
        """Hold off other programs that change the book, and take up what they noted."""
        if not self._folder.root.is_dir():
            self._folder.require()
        with explain_os_errors(self._folder.root), hold_lock(self._home / "lock"):
            self._notes.catch_up()
            self._fresh = {}
            yield

    def undo(self) -> Entry:
        """Put back what the last change replaced. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            done, _ = self._notes.stacks
            if not done:
                raise NotFoundError("There is nothing to undo.")
            entry = done[-1]
            return self._turn(Kind.UNDO, entry, entry.after, entry.before)

    def redo(self) -> Entry:
        """Do again what was undone last. Raises NotFoundError where there is none."""
        with self._alone():
            self._catch_up()
            _, undone = self._notes.stacks
            if not undone:
                raise NotFoundError("There is nothing to do again.")
            entry = undone[-1]
            return self._turn(Kind.REDO, entry, entry.before, entry.after)

    def _turn(self, kind: Kind, entry: Entry, expected: Contents, wanted: Contents) -> Entry:
        now, noted = self._look(self._folder), self._noted_since(entry)
        for name, identity in expected.items():
            if now.get(name) != identity and name not in noted:
                raise ConflictError(
                    f"{name} is not as this change left it.",
                    where=name,
                    remedy=f"Undo what came after it first: {Mend.HISTORY}.",
                )
        before = {name: now.get(name) for name in wanted}
        return self._commit(
            kind, entry.what, before, wanted, self._read_contents(wanted), entry.number
        )

    def _noted_since(self, entry: Entry) -> set[str]:
        later = (e for e in self.entries if e.number > entry.number and e.kind is Kind.NOTED)
        return {name for e in later for name in e.after}

    def _commit(
        self,
        kind: Kind,
        what: str,
        before: Contents,
        after: Contents,
        wanted: Mapping[str, bytes | None],
        of: int | None = None,
    ) -> Entry:
        """Note a change and let ``wanted`` become the book: wholly, or not at all.

        Raises ConflictError where a hand saves one of the files in this very moment: its words
        stand, and those of the change are in history if it was noted already.
        """
        staged = stage_all(self._folder, wanted)
        number = self._notes.count + 1
        try:
            saved = next((n for n in before if self._identify(n) != before[n]), None)
            if saved is not None:
                raise ConflictError(
                    f"{saved} was saved by another program in this very moment.",
                    where=saved,
                    remedy="Nothing was changed. Do it again.",
                )
            entry = self._append(kind, what, before, after, of, staged)
        except BaseException:
            self._notes.catch_up()
            if self._notes.count < number:
                drop_all(self._folder, staged)
            raise
        late = {name: part for name, part in staged.items() if not self._is_wanted(entry, name)}
        drop_all(self._folder, late)
        try:
            place_all(self._folder, {n: part for n, part in staged.items() if n not in late})
        except UserError as error:
            raise type(error)(
                f"{error.what} The change is noted, but not all of its files are in place.",
                where=error.where,
                remedy="See that the drive is well and has room, and go on: the change is finished "
                "by itself before the next one.",
            ) from error
        if late:
            raise ConflictError(
                f"{', '.join(late)} was saved by another program in this very moment.",
                where=next(iter(late)),
                remedy=f"That stands. What was to be written is change {number} in history "
                f"({Mend.HISTORY}). Look at it, and do it again.",
            )
        return entry

    def _read_contents(self, contents: Contents) -> dict[str, bytes | None]:
        read = self._notes.contents.read
        return {name: None if i is None else read(i) for name, i in contents.items()}

    def _append(
        self,
        kind: Kind,
        what: str,
        before: Contents,
        after: Contents,
        of: int | None = None,
        staged: Staged = MappingProxyType({}),
    ) -> Entry:
        at = datetime.now().astimezone().isoformat(timespec="seconds")
        entry = Entry(self._notes.count + 1, kind, what, at, before, after, of)
        self._notes.append(entry, dict(self._keep_contents(before, after)), staged)
        return entry

    def _keep_contents(self, before: Contents, after: Contents) -> Iterator[tuple[str, Rewriting]]:
        """Keep what nobody has kept yet; gives what is to be told in the note itself."""
        known = self._notes.known
        for side in (before, after):
            for name, identity in side.items():
                data = self._fresh.pop(identity, None) if identity else None
                if identity and data is not None:
                    kept = self._notes.contents.keep(identity, data, known.get(name))
                    if kept is not None:
                        yield identity, kept

    def _look(self, folder: BookFolder) -> dict[str, str | None]:
        """Give the identities of all decisions in a folder; what is new is held to be kept."""
        found: dict[str, str | None] = {}
        known = set(self._notes.known.values())
        for path in list_noted(folder):
            data = path.read_bytes()
            identity = hash_bytes(data)
            if identity not in known and not self._notes.contents.holds(identity):
                self._fresh[identity] = data
            found[path.relative_to(folder.root).as_posix()] = identity
        return found
