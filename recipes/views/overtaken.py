"""A colleague published while somebody was still typing: who, what, and how to go on.

A form of the house book carries how much was published when it was opened (`opened`). What came
after that is named on the page before the next press publishes anything, and whoever typed may
take over the colleague's changes wherever they changed nothing themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from django import forms
from django.http import QueryDict

from recipes.drink_sheet import Difference, differences
from recipes.forms.drink import DrinkForm
from recipes.forms.rules import SectionForm
from recipes.grammar.reasons import CannotBuild
from recipes.in_effect import holding_at
from recipes.menu import Menu
from recipes.models import Recipe, Revision, RulesVersion
from recipes.rehearsal import as_built
from recipes.rules_changes import Altered, rules_altered

NOT_TYPED = frozenset({"takes_effect_at"})


_Row = TypeVar("_Row", Revision, RulesVersion)


@dataclass(frozen=True)
class Overtaken:
    """`rows` are what was published since, oldest first. `theirs` is what the colleague changed;
    `mine` is how what is typed differs from it, aspect by aspect; neither where it can't be
    built. `altered` is the same of house rules. `can_join`: their changes can be taken over."""

    rows: tuple[Revision | RulesVersion, ...]
    theirs: tuple[Difference, ...] = ()
    mine: tuple[Difference, ...] = ()
    altered: tuple[Altered, ...] = ()
    can_join: bool = True

    @property
    def number(self) -> int:
        return self.rows[-1].number


def opened(sent: Mapping[str, Any], published: int) -> int:
    """How much was published when the form was opened; a page that says nothing is opened now."""
    said = str(sent.get("opened", ""))
    return min(int(said), published) if said.isdecimal() and len(said) < 7 else published


def of_drink(form: DrinkForm, rows: Sequence[Revision], recipe: Recipe) -> Overtaken | None:
    """None where nobody has published since. Call it on a valid form."""
    before, since = _parted(form.data, rows)
    if not since:
        return None
    menu, newest = form.menu, since[-1]
    base = holding_at(before, menu.at)
    theirs = _differences(base.spec, newest.spec, recipe, menu) if base else ()
    mine = _differences(newest.spec, form.spec(), recipe, menu)
    return Overtaken(tuple(since), theirs=theirs, mine=mine, can_join=base is not None)


def of_rules(form: SectionForm, rows: Sequence[RulesVersion]) -> Overtaken | None:
    before, since = _parted(form.data, rows)
    base = holding_at(before, form.menu.at)
    if not since or base is None:
        return None
    altered = rules_altered(base.house_rules, since[-1].house_rules, form.menu)
    return Overtaken(tuple(since), altered=tuple(altered), can_join=form.can_join)


def joined(sent: QueryDict, then: forms.Form, now: forms.Form, published: int) -> QueryDict:
    """What was sent, with the field as it is `now` wherever it says what it said `then`. Both
    forms are unbound; the result is opened anew."""
    data = sent.copy()
    data["opened"] = str(published)
    for name, field in now.fields.items():
        if name in NOT_TYPED or (name in then.fields and _is_changed(sent, name, then)):
            continue
        _put(data, name, field.prepare_value(now.get_initial_for_field(field, name)))
    return data


def _parted(sent: Mapping[str, Any], rows: Iterable[_Row]) -> tuple[list[_Row], list[_Row]]:
    """What there was when the form was opened, and what came since, by number."""
    ordered = sorted(rows, key=lambda row: row.number)
    known = opened(sent, len(ordered))
    return ordered[:known], ordered[known:]


def _differences(
    here: Mapping[str, Any], there: Mapping[str, Any], recipe: Recipe, menu: Menu
) -> tuple[Difference, ...]:
    alcohol = recipe.module.alcohol
    try:
        mine, theirs = (as_built(spec, menu, alcohol_module=alcohol) for spec in (here, there))
    except CannotBuild:
        return ()
    return differences(mine, theirs, menu)


def _is_changed(sent: QueryDict, name: str, then: forms.Form) -> bool:
    field = then.fields[name]
    said = field.widget.value_from_datadict(sent, {}, name)
    if isinstance(said, str):
        said = said.replace("\r\n", "\n")
    return field.has_changed(then.get_initial_for_field(field, name), said)


def _put(data: QueryDict, name: str, value: object) -> None:
    """As a browser would send it."""
    if isinstance(value, list | tuple):
        data.setlist(name, [str(one) for one in value])
    elif value is True:
        data[name] = "on"
    elif value is False:
        data.pop(name, None)
    else:
        data[name] = "" if value is None else str(value)
