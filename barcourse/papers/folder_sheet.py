"""The inspection folder as a sheet: the facts of the paper, one line each."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _

from .folder import FolderFacts, Once, PermitLine, PersonLine, Trained
from .sheets import to_csv

Row = tuple[object, ...]


def folder_csv(facts: FolderFacts) -> str:
    """One line a fact: whose or what, which, from when, until when, and a word about it."""
    head = [_("what"), _("who"), _("which"), _("from"), _("until"), _("said")]
    rows = [row for who in facts.people for row in _person_rows(who)]
    return to_csv(head, [*_policy_rows(facts), *rows, *_refused_rows(facts)])


def _policy_rows(facts: FolderFacts) -> Iterator[Row]:
    yield (_("age policy"), "", _("age of sale"), "", "", facts.legal_age)
    yield (_("age policy"), "", _("asked for proof below"), "", "", facts.challenge_age)
    for sentence in facts.age_rules:
        yield (_("age policy"), "", _("rule"), "", "", sentence)
    when = facts.as_of.isoformat(sep=" ", timespec="minutes")
    yield (_("head of the log"), "", facts.head, when, "", "")


def _person_rows(who: PersonLine) -> Iterator[Row]:
    yield (_("works here"), who.name, who.role, who.since, "", "")
    for station, said in _serves(who):
        yield (_("may serve"), who.name, station, "", "", said)
    for trained in who.trained:
        yield from _training_rows(who.name, trained)
    for name in who.untrained:
        yield (_("training"), who.name, name, "", "", _("not passed here"))
    for p in who.permits:
        yield (_("permit"), who.name, p.kind, "", p.until or "", _permit_said(p))
    if not who.permits:
        yield (_("permit"), who.name, "", "", "", _("none noted"))


def _serves(who: PersonLine) -> Iterator[tuple[str, str]]:
    """Each station with how, or that not and why."""
    for station in who.ready:
        yield station, _("ready")
    for station in who.second:
        yield station, _("beside somebody who is ready")
    for no in who.not_yet:
        said = _("no: %(why)s") % {"why": " ".join(no.why)} if no.why else _("no")
        yield from ((station, said) for station in no.stations)
    for once in who.once:
        yield once.station, _once_said(once)
    if not who.in_training:
        yield "", _("by the house's own word, as staff")
    elif not (who.ready or who.second or who.not_yet):
        yield "", _("no")


def _once_said(once: Once) -> str:
    said = _("for one shift on the word of %(by)s: %(when)s") % {"by": once.by, "when": once.when}
    if once.barred:
        said = _("not even %(once)s. %(why)s") % {"once": said, "why": once.barred}
    return " ".join(filter(None, (said, once.reason)))


def _training_rows(name: str, trained: Trained) -> Iterator[Row]:
    said = _("due again") if trained.due_again else ""
    for day in trained.before:
        yield (_("training"), name, trained.module, day, "", _("taken again since"))
    yield (_("training"), name, trained.module, trained.day, trained.due, said)


def _permit_said(permit: PermitLine) -> str:
    state = _("holds") if permit.holds else _("ran out")
    if permit.until is None:
        state = _("no last day noted")
    return " ".join(filter(None, (permit.number, state)))


def _refused_rows(facts: FolderFacts) -> Iterator[Row]:
    what = _("refused or happened")
    for line in facts.refused:
        when = line.at.isoformat(sep=" ", timespec="minutes")
        yield (what, line.by, line.what, when, "", line.words)
    if not facts.refused:
        yield (what, "", "", facts.refused_since, "", _("Nothing."))
