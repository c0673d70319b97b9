"""What guests call things, and starting from the rules of another country."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from recipes.forms.rules import FieldRow, SectionForm
from recipes.grammar.aspects import fingerprint
from recipes.grammar.calls.stock import FINISH, role_of
from recipes.grammar.course import fold
from recipes.grammar.reasons import CannotBuild, Reason, Value
from recipes.grammar.rules import HouseRules, Pattern, Serving
from recipes.grammar.rules_lines import CODES as SLANG_CODES
from recipes.grammar.rules_lines import read_slang, write_slang
from recipes.grammar.rules_preset import PRESETS, fitted
from recipes.grammar.rules_said import (
    BASE,
    CODES,
    read_patterns,
    read_servings,
    write_patterns,
)
from recipes.grammar.words_owned import PATTERN, SERVING, SLANG, without_owned
from recipes.hearing import book_of
from recipes.naming import named_drinks
from recipes.saying import sentences
from recipes.shipped import shipped_rules
from recipes.word_examples import Examples
from recipes.wording import label
from recipes.words_rules import preset_name

TYPED = {"spellcheck": "false", "autocapitalize": "off"}
BLANK = {SLANG: 3, PATTERN: 1, SERVING: 1}
"""Rows for new words, on each of the three lists."""
WORD = {SLANG: "word", PATTERN: "pattern", SERVING: "serving"}
PARTS = {SLANG: ("means",), PATTERN: ("mixers", "base", "garnish"), SERVING: ("much",)}
NOTHING = "none"


class WordsForm(SectionForm):
    """A row a word. Rows have the word in their names, so that they stand for the same word
    whatever a colleague has published; a word that is emptied goes."""

    def add_fields(self) -> None:
        self.rows: dict[str, list[str]] = {
            section: [*map(_key, held), *(f"new{n}" for n in range(1, BLANK[section] + 1))]
            for section, held in self._held().items()
        }
        for word, slug in [*self.rules.slang.items(), *[("", "")] * BLANK[SLANG]]:
            self._add_slang(*self._next(SLANG), word, slug)
        for word, made in [*self.rules.patterns.items(), *[("", None)] * BLANK[PATTERN]]:
            self._add_pattern(*self._next(PATTERN), word, made)
        for word, serving in [*self.rules.servings.items(), *[("", None)] * BLANK[SERVING]]:
            self._add_serving(*self._next(SERVING), word, serving)

    def _held(self) -> dict[str, Mapping[str, object]]:
        rules = self.rules
        return {SLANG: rules.slang, PATTERN: rules.patterns, SERVING: rules.servings}

    def _next(self, section: str) -> tuple[str, str]:
        """The first row of a list that has no fields yet."""
        stem = WORD[section]
        key = next(k for k in self.rows[section] if f"{stem}_{k}" not in self.fields)
        return stem, key

    def _add_slang(self, stem: str, key: str, word: str, slug: str) -> None:
        self.fields[f"{stem}_{key}"] = _said(_("The guest says"), word)
        name = write_slang({"a": slug}, self.menu.pantry).removeprefix("a = ") if slug else ""
        self.fields[f"means_{key}"] = _said(_("and means"), name, "stock")

    def _add_pattern(self, stem: str, key: str, word: str, made: Pattern | None) -> None:
        line = write_patterns({"a": made}, self.menu.pantry).removeprefix("a = ") if made else ""
        mixers, *more = line.split("; ")
        base = next((m for m in more if m.startswith(BASE)), "")
        garnish = "; ".join(m for m in more if m != base)
        self.fields[f"{stem}_{key}"] = _said(_("The guest says"), word)
        self.fields[f"mixers_{key}"] = _said(_("topped with"), mixers, "stock")
        self.fields[f"mixers_{key}"].help_text = _("Two with a comma between them.")
        base_said = _said(_("Base, where the guest names none"), base.removeprefix(BASE), "stock")
        base_said.help_text = _("Left empty, the bartender asks.")
        self.fields[f"base_{key}"] = base_said
        self.fields[f"garnish_{key}"] = forms.ChoiceField(
            label=_("On it"), choices=self._garnishes(garnish), initial=garnish, required=False
        )

    def _garnishes(self, held: str) -> list[tuple[str, str]]:
        finishes = (i for i in self.menu.pantry.values() if role_of(i) == FINISH)
        always = [(f"always {i.name}", i.name) for i in sorted(finishes, key=lambda i: i.name)]
        own = [] if held in ("", NOTHING, *(value for value, _text in always)) else [(held, held)]
        first = [("", _("as the garnish rules say")), (NOTHING, _("nothing"))]
        return [*first, *own, *always]

    def _add_serving(self, stem: str, key: str, word: str, serving: Serving | None) -> None:
        self.fields[f"{stem}_{key}"] = _said(_("The guest says"), word)
        self.fields[f"much_{key}"] = forms.ChoiceField(
            label=_("and means"),
            choices=[("", _("choose")), *_labels().items()],
            initial=serving or "",
            required=False,
        )

    def clean(self) -> dict[str, Any]:
        said = super().clean() or {}
        pantry = self.menu.pantry
        read: dict[str, Callable[[str], Mapping[str, object]]] = {
            SLANG: lambda text: read_slang(text, pantry),
            PATTERN: lambda text: read_patterns(text, pantry),
            SERVING: lambda text: read_servings(text, _labels()),
        }
        self.taken = {section: self._read(section, read[section]) for section in WORD}
        return said

    def _read(self, section: str, read: Callable[[str], Mapping[str, object]]) -> dict[str, Any]:
        """Row by row, each with its own reasons."""
        found: dict[str, Any] = {}
        for key in self.rows[section]:
            line, field = self._line(section, key), f"{WORD[section]}_{key}"
            if not line:
                continue
            try:
                [(word, meant)] = read(line).items()
            except CannotBuild as bad:
                told = (_of_row(r, self._first_said(section, key)) for r in bad.reasons)
                self.add_error(field, sentences(tuple(told), self.menu))
                continue
            if fold(word) in map(fold, found):
                self.add_error(field, _("“%(word)s” stands here twice.") % {"word": word})
            found[word] = meant
        return found

    def _line(self, section: str, key: str) -> str:
        """The row as one line; empty for a word that goes and for a row that nobody used."""
        said = [self._typed(f"{part}_{key}") for part in PARTS[section]]
        word = self._typed(f"{WORD[section]}_{key}")
        if not word and (not key.startswith("new") or not any(said)):
            return ""
        if section == PATTERN:
            mixers, base, garnish = said
            meant = "; ".join([mixers, *([BASE + base] if base else []), *filter(None, [garnish])])
        elif section == SERVING:
            meant = str(label(Serving(said[0]))) if said[0] else ""
        else:
            [meant] = said
        return f"{word} = {meant}"

    def _first_said(self, section: str, key: str) -> str:
        names = (f"{part}_{key}" for part in (WORD[section], *PARTS[section]))
        return next(filter(None, map(self._typed, names)), "")

    def _typed(self, name: str) -> str:
        return " ".join(str(self.cleaned_data.get(name) or "").replace("=", " ").split())

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        """The row of this word, on its list."""
        section, word = str(values.get("section")), fold(str(values.get("word")))
        for key in self.rows.get(section, ()):
            name = f"{WORD[section]}_{key}"
            if fold(self._typed(name)) == word:
                return name
        return ""

    def changed(self) -> Mapping[str, Any]:
        patterns = {w: made.model_dump() for w, made in self.taken[PATTERN].items()}
        return {
            "slang": self.taken[SLANG],
            "patterns": patterns,
            "servings": self.taken[SERVING],
        }

    def lists(self) -> list[WordList]:
        """The three lists, each row with a call in which its word stands."""
        typed = self.is_bound and self.is_valid()
        rules = self.new_rules() if typed else self.rules
        examples = Examples.under(rules, self.menu)
        return [
            WordList(title, help_text, [self._row(section, k, rules, examples) for k in keys])
            for (section, keys), (title, help_text) in zip(
                self.rows.items(), _titles(), strict=True
            )
        ]

    def _row(self, section: str, key: str, rules: HouseRules, examples: Examples) -> FieldRow:
        fields = tuple(self[f"{part}_{key}"] for part in (WORD[section], *PARTS[section]))
        word = str(fields[0].value() or "")
        note = ""
        if section == SLANG and word in rules.slang:
            note = examples.of_slang(word, rules.slang[word])
        elif section == PATTERN and word in rules.patterns:
            note = examples.of_pattern(word)
        elif section == SERVING and word in rules.servings:
            note = examples.of_serving(word, rules.servings[word])
        return FieldRow(word or _("Another word"), fields, note)

    @property
    def stock(self) -> list[str]:
        """What a word may mean, to pick from."""
        return sorted(i.name for i in self.menu.pantry.values())


@dataclass(frozen=True)
class WordList:
    title: str
    help_text: str
    rows: list[FieldRow]


def _titles() -> tuple[tuple[str, str], ...]:
    return (
        (_("What guests call things"), _("One word means one thing. Empty a word to drop it.")),
        (
            _("Words that make a drink of any base"),
            _("“Vodka press”: the base is said with the word, and this tops it up."),
        ),
        (_("Words that say how much"), _("A half, a short, a large one.")),
    )


def _said(title: str, value: str, stock: str = "") -> forms.CharField:
    attributes = {**TYPED, "autocomplete": "off"}
    return forms.CharField(
        label=title,
        initial=value,
        max_length=200,
        required=False,
        widget=forms.TextInput(attrs={**attributes, **({"list": stock} if stock else {})}),
    )


def _key(word: str) -> str:
    return fingerprint(fold(word))[:10]


def _of_row(reason: Reason, said: str) -> Reason:
    """Of one row, not of a line of text: without its number, and only with what was typed."""
    values = {n: v for n, v in reason.values.items() if n != "line"}
    if reason.code in (*CODES, *SLANG_CODES) and "said" in values:
        values["said"] = said
    return replace(reason, params=tuple(values.items()))


def _labels() -> dict[Serving, str]:
    return {serving: label(serving) for serving in Serving}


class PresetForm(SectionForm):
    """The rules that ship for a country, as this house can take them over."""

    can_join = False

    def add_fields(self) -> None:
        self.fields["preset"] = forms.ChoiceField(
            label=_("Start from"),
            choices=[(key, preset_name(key)) for key in PRESETS],
            widget=forms.RadioSelect,
            error_messages={"required": _("Pick one of them.")},
        )

    def _fitted(self) -> tuple[HouseRules, tuple[Reason, ...]]:
        preset = shipped_rules(self.cleaned_data["preset"])
        menu = self.menu
        rules, told = fitted(preset, self.rules, menu.pantry)
        rules, owned = without_owned(
            rules, self.rules, menu.pantry, named_drinks(menu.venue), book_of(menu)
        )
        return rules, (*told, *owned)

    @property
    def country(self) -> str:
        """Once one is picked, its own."""
        picked = getattr(self, "cleaned_data", {}).get("preset")
        return shipped_rules(picked).country if picked else super().country

    def new_rules(self) -> HouseRules:
        return self._fitted()[0]

    def told(self) -> tuple[Reason, ...]:
        return self._fitted()[1]
