"""What a form was filled in upon: two people at once, and neither undoes the other unseen.

A form of the house book carries what it said when it was opened (`was`). Where somebody else has
saved since, their change stays wherever the form was left alone; where both changed the same thing
to something else, the form comes back with both, and only the next press writes over theirs.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _

WAS = "was"
_Said = TypeVar("_Said")


@dataclass(frozen=True)
class Met(Generic[_Said]):
    """`kept` is what holds by both; `theirs` are the names of what only they changed, `clashes` of
    what both did, each otherwise: there `kept` is one's own."""

    kept: dict[str, _Said]
    theirs: tuple[str, ...] = ()
    clashes: tuple[str, ...] = ()


def meet(
    was: Mapping[str, _Said], now: Mapping[str, _Said], mine: Mapping[str, _Said]
) -> Met[_Said]:
    """What `was` doesn't name was seen as it is `now`."""
    moved = [n for n in mine if n in was and n in now and now[n] not in (was[n], mine[n])]
    theirs = tuple(n for n in moved if mine[n] == was[n])
    kept = {**mine, **{n: now[n] for n in theirs}}
    return Met(kept, theirs, tuple(n for n in moved if n not in theirs))


@dataclass(frozen=True)
class Change:
    """A field that somebody else changed: what it is called, and what it says now."""

    name: str
    label: str
    says: str


@dataclass(frozen=True)
class Since:
    """What was sent, with their changes wherever nothing was typed."""

    data: QueryDict
    theirs: tuple[Change, ...]
    clashes: tuple[Change, ...]

    def tell(self, form: forms.BaseForm) -> None:
        """What both changed stands beside its field; call it on a form bound to `data`."""
        for change in self.clashes:
            form.add_error(change.name, _("Somebody else changed this meanwhile: see above."))


def since_opened(sent: QueryDict, now: forms.BaseForm) -> Since:
    """`now` is the form, unbound, as it would be opened now."""
    stands = as_sent(now)
    mine = {name: _plain(sent.getlist(name)) for name in stands}
    met = meet(read_was(sent.get(WAS, "")), stands, mine)
    data = sent.copy()
    for name in met.theirs:
        data.setlist(name, list(stands[name]))
    data[WAS] = write_was(stands)
    theirs, clashes = (_changes(names, now, stands) for names in (met.theirs, met.clashes))
    return Since(data, theirs, clashes)


def opened_with(form: forms.BaseForm) -> str:
    """What the page carries along as `was`."""
    return write_was(as_sent(form))


def taken_over(since: Since) -> str:
    """For the message that it is saved; empty where nobody else changed anything."""
    if not since.theirs:
        return ""
    what = "; ".join(f"{change.label}: {change.says or '-'}" for change in since.theirs)
    return _("Kept as somebody else saved it meanwhile: %(what)s.") % {"what": what}


def as_sent(form: forms.BaseForm) -> dict[str, tuple[str, ...]]:
    """Every field as a browser sends it where nobody touches it."""
    return {
        name: _sent(field.prepare_value(form.get_initial_for_field(field, name)))
        for name, field in form.fields.items()
    }


def write_was(said: Mapping[str, tuple[str, ...]]) -> str:
    return json.dumps(said, separators=(",", ":"))


def read_was(said: str) -> dict[str, tuple[str, ...]]:
    """What `write_was` wrote; nothing where it is anything else."""
    try:
        return {str(name): tuple(map(str, some)) for name, some in json.loads(said or "{}").items()}
    except (ValueError, TypeError, AttributeError):
        return {}


def _sent(value: object) -> tuple[str, ...]:
    if isinstance(value, list | tuple):
        return _plain(list(map(str, value)))
    if isinstance(value, bool):
        return ("on",) if value else ()
    return _plain(["" if value is None else str(value)])


def _plain(values: list[str]) -> tuple[str, ...]:
    """A browser's own form ends lines with two characters, and blanks around mean nothing."""
    return tuple(value.replace("\r\n", "\n").strip() for value in values)


def _changes(
    names: tuple[str, ...], form: forms.BaseForm, stands: Mapping[str, tuple[str, ...]]
) -> tuple[Change, ...]:
    fields = ((name, form.fields[name]) for name in names)
    return tuple(Change(n, str(field.label), _words(field, stands[n])) for n, field in fields)


def _words(field: forms.Field, values: tuple[str, ...]) -> str:
    if isinstance(field, forms.BooleanField):
        return _("yes") if values else _("no")
    words = {str(value): str(label) for value, label in getattr(field, "choices", ())}
    return ", ".join(words.get(value, value) for value in values)
