"""Saying that a bottle or a drink is out tonight."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from recipes.forms.rules import upper
from recipes.grammar.ingredients import Kind
from recipes.grammar.reasons import Reason
from recipes.grammar.stand_ins import Nearness, nearness
from recipes.models import Ingredient, Recipe
from recipes.wording import label

BOTTLE, DRINK = "bottle", "drink"
_NEARNESS = {
    Nearness.SAME: _("Of the same kind"),
    Nearness.CLOSE: _("Close to it"),
    Nearness.ANOTHER: _("Of another kind"),
}


class OffForm(forms.Form):
    """What is out, and what stands in. `what` is `bottle:slug` or `drink:slug`."""

    what = forms.ChoiceField(
        label=_("What is out"),
        error_messages={
            "required": _("Which one? Pick a bottle or a drink."),
            "invalid_choice": _("This house has no such bottle or drink any more. Pick another."),
        },
    )
    substitute = forms.ChoiceField(
        label=_("Use instead"),
        required=False,
        help_text=_("As much of it, at the same place. Without one, drinks that need it are off."),
        error_messages={"invalid_choice": _("This house hasn't got that one. Pick another.")},
    )
    sure = forms.BooleanField(label=_("Yes, pour it all the same"), required=False)

    def __init__(
        self, *args: Any, bottles: Iterable[Ingredient], drinks: Iterable[Recipe], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.bottles = {row.slug: row for row in bottles}
        self.drinks = {row.slug: row for row in drinks}
        named = [(f"{BOTTLE}:{slug}", row.name) for slug, row in self.bottles.items()]
        poured = [(f"{DRINK}:{slug}", row.name) for slug, row in self.drinks.items()]
        what, use = self.fields["what"], self.fields["substitute"]
        assert isinstance(what, forms.ChoiceField)  # noqa: S101  # for the type checker
        assert isinstance(use, forms.ChoiceField)  # noqa: S101  # for the type checker
        what.choices = [
            ("", _("Choose")),
            (_("Bottles and other things"), named),
            (_("Drinks"), poured),
        ]
        use.choices = [("", _("nothing stands in")), *self._stand_ins()]

    def _stand_ins(self) -> Iterator[tuple[str, list[tuple[str, str]]]]:
        """The nearest first; by kind as long as nobody has said what is out."""
        out = self.bottles.get(str(self["what"].value() or "").removeprefix(f"{BOTTLE}:"))
        offered = [row for row in self.bottles.values() if self.is_bound or row != out]
        if out is None:
            for kind in Kind:
                if of_kind := _choices(row for row in offered if row.kind == kind):
                    yield upper(label(kind)), of_kind
            return
        facts = out.facts()
        for near, title in _NEARNESS.items():
            if found := _choices(r for r in offered if nearness(facts, r.facts()) is near):
                yield str(title), found

    def clean(self) -> dict[str, Any] | None:
        if self.recipe and self.cleaned_data.get("substitute"):
            said = _("A drink has no substitute. Pick the bottle that is out, or nothing here.")
            self.add_error("substitute", ValidationError(said))
        return super().clean()

    @property
    def recipe(self) -> Recipe | None:
        kind, _colon, slug = self._what()
        return self.drinks.get(slug) if kind == DRINK else None

    @property
    def ingredient(self) -> Ingredient | None:
        kind, _colon, slug = self._what()
        return self.bottles.get(slug) if kind == BOTTLE else None

    @property
    def is_far(self) -> bool:
        """Whether what stands in is of another kind than what is out."""
        out, use = self.ingredient, self.stands_in
        if out is None or use is None:
            return False
        return nearness(out.facts(), use.facts()) is Nearness.ANOTHER

    @property
    def stands_in(self) -> Ingredient | None:
        return self.bottles.get(self.cleaned_data.get("substitute", ""))

    def field_for(self, reason: Reason) -> str | None:
        return "substitute" if reason.code.startswith("substitute_") else None

    def _what(self) -> tuple[str, str, str]:
        return str(self.cleaned_data.get("what", "")).partition(":")


def _choices(rows: Iterable[Ingredient]) -> list[tuple[str, str]]:
    return [(row.slug, row.name) for row in rows]
