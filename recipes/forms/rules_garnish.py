"""The garnish rules in their order, each in a fold: what it needs, what goes on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField
from django.http import QueryDict
from django.utils.text import slugify
from django.utils.translation import gettext as _

from recipes.forms.rules import SectionForm
from recipes.forms.rules_words import TYPED
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.lines import read_garnish, write_garnish
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import Family, GarnishRule
from recipes.grammar.rules_lines import read_needs, write_needs
from recipes.rules_sheet import garnish_rule
from recipes.saying import sentences
from recipes.wording import label

MOST_RULES = 40
_ROW = re.compile(r"g(\d{1,3})_key")
_ENDS = ("key", "needs", "only", "families", "garnish", "remove")


@dataclass(frozen=True)
class RuleRow:
    """One rule of the form. `said` is the rule as it holds, "" for one that is new."""

    number: int
    said: str
    fields: tuple[BoundField, ...]
    open: bool


class GarnishForm(SectionForm):
    """Bound, it has the rules that were sent, in the order in which they were sent."""

    can_join = False

    def add_fields(self) -> None:
        self.labels = {m.value: label(m) for enum in (LiquorClass, Kind) for m in enum}
        if self.is_bound:
            self.count = min(rows_in(self.data), MOST_RULES)
            known: list[GarnishRule | None] = [None] * self.count
        else:
            known = _with_room(self.rules.garnish)
            self.count = len(known)
        for n, rule in enumerate(known):
            self._add(f"g{n}", rule)

    def _add(self, stem: str, rule: GarnishRule | None) -> None:
        self.fields[f"{stem}_key"] = forms.CharField(
            required=False, widget=forms.HiddenInput, initial=rule.key if rule else ""
        )
        self.fields[f"{stem}_needs"] = forms.CharField(
            label=_("What is in the drink"),
            help_text=_(
                "All of these lines must be in it: an ingredient or a kind of them. “vodka, gin” "
                "on one line: either will do. No line: every drink."
            ),
            initial=rule and write_needs(rule.needs, self.menu.pantry, self.labels),
            max_length=1000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 3, **TYPED}),
        )
        self.fields[f"{stem}_only"] = forms.BooleanField(
            label=_("And nothing else is in it"), required=False, initial=bool(rule and rule.only)
        )
        self.fields[f"{stem}_families"] = forms.MultipleChoiceField(
            label=_("Only when it is a"),
            choices=[(family.value, label(family)) for family in Family],
            initial=[family.value for family in rule.families] if rule else [],
            widget=forms.CheckboxSelectMultiple,
            required=False,
        )
        self.fields[f"{stem}_garnish"] = forms.CharField(
            label=_("What goes on"),
            help_text=_(
                "One a line: “always lime wedge”, “ask lemon”, “on request mint”. No line: nothing."
            ),
            initial=write_garnish(rule.garnish, self.menu.pantry) if rule else "",
            max_length=1000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 2, **TYPED}),
        )
        self.fields[f"{stem}_remove"] = forms.BooleanField(
            label=_("Take this rule out"), required=False
        )

    def rule_rows(self) -> Iterator[RuleRow]:
        said = {rule.key: garnish_rule(rule, self.menu) for rule in self.rules.garnish}
        for n in range(self.count):
            fields = self.bound(f"g{n}", *_ENDS)
            key = str(fields[0].value() or "")
            wrong = any(f.errors for f in fields) if self.is_bound else False
            yield RuleRow(n, said.get(key, ""), fields, open=wrong or not key)

    def clean(self) -> None:
        for n in range(self.count):
            self._read(f"g{n}_needs", self._needs)
            self._read(f"g{n}_garnish", self._garnish)

    def _read(self, name: str, read: Callable[[str], Any]) -> None:
        if name not in self.cleaned_data:
            return
        try:
            self.cleaned_data[name] = read(self.cleaned_data[name])
        except CannotBuild as bad:
            self.add_error(name, sentences(bad.reasons, self.menu))

    def _needs(self, text: str) -> Any:
        return read_needs(text, self.menu.pantry, self.labels)

    def _garnish(self, text: str) -> Any:
        return read_garnish(text, self.menu.pantry) or []

    def changed(self) -> Mapping[str, Any]:
        keys: set[str] = set()
        rules = []
        for n in range(self.count):
            said = {end: self.cleaned_data[f"g{n}_{end}"] for end in _ENDS}
            if said.pop("remove") or _is_blank(said):
                continue
            rules.append({**said, "key": self._key(said, keys)})
        return {"garnish": rules}

    def _key(self, said: Mapping[str, Any], taken: set[str]) -> str:
        """A rule keeps its key, so that whoever knew it still does; a new one gets one."""
        old = {rule.key for rule in self.rules.garnish}
        key = wanted = str(said["key"])
        others = taken
        if wanted not in old:
            words = [word.replace("_", "-") for group in said["needs"] for word in group]
            key = wanted = slugify("-".join(words))[:60].strip("-") or "every-drink"
            others = taken | old
        number = 2
        while key in others:
            key, number = f"{wanted}-{number}", number + 1
        taken.add(key)
        return key


def _with_room(rules: Sequence[GarnishRule]) -> list[GarnishRule | None]:
    """The rules and an empty one: before the rule for every drink, behind which none is reached."""
    last = len(rules)
    while last and not (rules[last - 1].needs or rules[last - 1].families):
        last -= 1
    return [*rules[:last], None, *rules[last:]]


def _is_blank(said: Mapping[str, Any]) -> bool:
    """A row that was left empty. A rule for every drink without a garnish has a key, or says by
    its ticks that it is meant."""
    return not any(said[end] for end in _ENDS if end != "remove")


def rows_in(sent: Mapping[str, Any]) -> int:
    """How many rules a form that was sent has: they are numbered from 0 without a gap."""
    numbers = {int(found[1]) for name in sent if (found := _ROW.fullmatch(name))}
    return next(n for n in range(len(numbers) + 1) if n not in numbers)


def moved(sent: QueryDict) -> QueryDict | None:
    """What was sent with a rule moved up or down or a new one begun, as its button says; None
    where no such button was pressed."""
    count = rows_in(sent)
    if "more" in sent and count < MOST_RULES:
        return _with_another(sent, count)
    for button, step in (("up", -1), ("down", 1)):
        said = sent.get(button, "")
        if said.isdecimal() and len(said) < 4:
            here, there = int(said), int(said) + step
            fits = min(here, there) >= 0 and max(here, there) < count
            return _swapped(sent, here, there) if fits else sent.copy()
    return None


def _with_another(sent: QueryDict, count: int) -> QueryDict:
    data = sent.copy()
    data[f"g{count}_key"] = ""
    here = count
    while here and _fits_everything(data, here - 1):
        data = _swapped(data, here, here - 1)
        here -= 1
    return data


def _fits_everything(sent: QueryDict, n: int) -> bool:
    """Whether this rule is one for every drink; an empty row is none."""
    if sent.get(f"g{n}_needs", "").strip() or sent.getlist(f"g{n}_families"):
        return False
    return any(sent.get(f"g{n}_{end}", "").strip() for end in ("key", "garnish", "only"))


def _swapped(sent: QueryDict, here: int, there: int) -> QueryDict:
    data = sent.copy()
    for end in _ENDS:
        one, other = f"g{here}_{end}", f"g{there}_{end}"
        data.setlist(one, sent.getlist(other))
        data.setlist(other, sent.getlist(one))
    return data
