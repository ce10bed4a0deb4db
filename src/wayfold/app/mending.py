"""Mending what is safe to mend, all of it as one change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable

from wayfold.app.session import Session
from wayfold.base.findings import Finding, Rewording, Severity
from wayfold.checks.rewording import plan_mending


def mend(
    session: Session, findings: Iterable[Finding], wanted: Collection[Rewording] | None = None
) -> tuple[Rewording, ...]:
    """Do the rewordings of ``findings``, or the ``wanted`` ones of them, and give what was done.

    The findings are those on the book as it is held. Raises UserError where it cannot be changed.
    """
    results = session.results
    mending = plan_mending(results.book, results.photos, findings, wanted)
    if mending.edits:
        session.edit(*mending.edits)
    return mending.rewordings


def list_worse(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[Finding, ...]:
    """Give the findings of a place and rule that has more of them than before, or graver ones."""
    known = Counter(_name(finding) for finding in before)
    worse = []
    for finding in after:
        name = _name(finding)
        if known[name] > 0:
            known[name] -= 1
        else:
            worse.append(finding)
    return tuple(worse)


def _name(finding: Finding) -> tuple[str, str, Severity]:
    return finding.rule, finding.where, finding.severity
