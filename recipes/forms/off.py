"""Saying that a bottle or a drink is out tonight."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from recipes.grammar.reasons import Reason
from recipes.models import Ingredient, Recipe

BOTTLE, DRINK = "bottle", "drink"


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
        use.choices = [
            ("", _("nothing stands in")),
            *((slug, row.name) for slug, row in self.bottles.items()),
        ]

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
    def stands_in(self) -> Ingredient | None:
        return self.bottles.get(self.cleaned_data.get("substitute", ""))

    def field_for(self, reason: Reason) -> str | None:
        return "substitute" if reason.code.startswith("substitute_") else None

    def _what(self) -> tuple[str, str, str]:
        return str(self.cleaned_data.get("what", "")).partition(":")
