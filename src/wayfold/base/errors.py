"""Errors that a person can mend. Anything else that is raised is a bug and shows its traceback."""

from __future__ import annotations


class UserError(Exception):
    """Something the person can put right.

    ``what`` happened, ``where`` (a file, a key, a page), and the ``remedy``: what to do now.
    """

    def __init__(self, what: str, *, where: str = "", remedy: str = "") -> None:
        self.what = what
        self.where = where
        self.remedy = remedy
        super().__init__(what)

    def __str__(self) -> str:
        head = f"{self.where}: {self.what}" if self.where else self.what
        return f"{head}\n{self.remedy}" if self.remedy else head

    def __reduce__(self) -> tuple[object, ...]:
        # Exceptions cross from worker processes by pickling, which knows positional arguments only.
        return (_rebuild, (type(self), self.what, self.where, self.remedy))


class NotFoundError(UserError):
    """What was asked for is not there."""


class ConflictError(UserError):
    """The thing has changed since the asker last saw it."""


class RewrittenError(ConflictError):
    """Words have become others since the writer began: ``kept``, with ``kept_subtitle`` to it."""

    def __init__(
        self,
        what: str = "This was written anew elsewhere while you wrote.",
        *,
        where: str = "",
        remedy: str = "Compare both, and keep the one you want.",
        kept: str = "",
        kept_subtitle: str | None = None,
    ) -> None:
        super().__init__(what, where=where, remedy=remedy)
        self.kept = kept
        self.kept_subtitle = kept_subtitle


class CancelledError(UserError):
    """The person stopped the work."""

    def __init__(self, what: str = "Stopped.", *, where: str = "", remedy: str = "") -> None:
        super().__init__(what, where=where, remedy=remedy or "Everything done so far is kept.")


def _rebuild(kind: type[UserError], what: str, where: str, remedy: str) -> UserError:
    return kind(what, where=where, remedy=remedy)
