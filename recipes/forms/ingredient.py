"""What the house stocks, as it is typed; and what a label says."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.forms.card import AliasesField, MoneyField
from recipes.forms.fields import NumberField
from recipes.grammar.allergens import ALLERGENS
from recipes.grammar.ingredients import Kind, Step
from recipes.menu import Menu
from recipes.models import Ingredient
from recipes.publish_ingredients import Stock
from recipes.wording import allergen_label, label


class IngredientForm(forms.Form):
    """The limits of numbers are those of the grammar's own ingredient."""

    name = forms.CharField(label=lazy("Name"), max_length=80)
    kind = forms.ChoiceField(
        label=lazy("Kind"),
        help_text=lazy("House rules speak of kinds: which garnish goes on, how much a pour is."),
    )
    abv = NumberField(
        label=lazy("Percent alcohol by volume"),
        help_text=lazy("As the label says; 0 for what has none."),
        min_value=0,
        max_value=96,
    )
    aliases = AliasesField()
    bottle_of = forms.ChoiceField(
        label=lazy("It is a bottle of"),
        help_text=lazy(
            "For a bottle that guests may have in place of the house pour, where recipes speak of "
            "just gin or vodka."
        ),
        required=False,
    )
    step = forms.ChoiceField(
        label=lazy("Step"),
        help_text=lazy(
            "What a guest gets who asks for “premium gin and tonic”. Of several bottles on one "
            "step, the bartender asks which."
        ),
        required=False,
    )
    colour = forms.RegexField(
        label=lazy("Colour in drawings"),
        regex=r"^#[0-9a-fA-F]{6}$",
        widget=forms.TextInput(attrs={"type": "color"}),
    )
    density = NumberField(
        label=lazy("Density in g/ml"),
        help_text=lazy(
            "Decides what lies under what in a layered drink. Water is 1, spirits about 0.95, "
            "syrups 1.2 to 1.3."
        ),
        required=False,
        min_value=0.61,
        max_value=1.59,
    )
    bottle_ml = NumberField(
        label=lazy("What its bottle holds, in millilitres"),
        required=False,
        min_value=1,
        max_value=100_000,
    )
    bottle_price = MoneyField(label=lazy("What a bottle costs the house"))
    another_bottle = forms.BooleanField(
        label=lazy("It is another bottle now"),
        help_text=lazy(
            "Of another maker, or from another supplier. Its label counts as unread from then on; "
            "so it does with another name, kind, strength or size."
        ),
        required=False,
    )

    def __init__(
        self, *args: Any, menu: Menu, row: Ingredient | None = None, **kwargs: Any
    ) -> None:
        kwargs["initial"] = _written(row) if row else {"abv": 0, "colour": "#f4f1e6"}
        super().__init__(*args, **kwargs)
        self.fields["bottle_of"].choices = _likes(menu, row)  # type: ignore[attr-defined]
        self.fields["step"].choices = [(s.value, label(s)) for s in Step]  # type: ignore[attr-defined]
        if row is None:
            del self.fields["another_bottle"]
        kinds = sorted(((k.value, label(k)) for k in Kind), key=lambda pair: pair[1].casefold())
        self.fields["kind"].choices = kinds  # type: ignore[attr-defined]  # it has them

    def stock(self) -> Stock:
        """What the form says; call it on a valid form."""
        said = self.cleaned_data
        return Stock(
            name=" ".join(said["name"].split()),
            kind=Kind(said["kind"]),
            abv=said["abv"],
            colour=said["colour"].lower(),
            density=said["density"],
            aliases=said["aliases"],
            bottle_ml=said["bottle_ml"],
            bottle_price=said["bottle_price"],
            step=Step(said["step"] or Step.HOUSE),
            bottle_of=said["bottle_of"],
        )


class LabelForm(forms.Form):
    """What the label of the bottle in hand names."""

    allergens = forms.MultipleChoiceField(
        label=lazy("The label names"), required=False, widget=forms.CheckboxSelectMultiple
    )
    none = forms.BooleanField(label=lazy("The label names none of these"), required=False)

    def __init__(self, *args: Any, row: Ingredient, **kwargs: Any) -> None:
        kwargs["initial"] = {"allergens": row.allergens or []}
        super().__init__(*args, **kwargs)
        words = sorted(((a, allergen_label(a)) for a in ALLERGENS), key=lambda pair: pair[1])
        self.fields["allergens"].choices = words  # type: ignore[attr-defined]  # it has them

    def clean(self) -> dict[str, Any]:
        said = self.cleaned_data
        if bool(said.get("allergens")) == bool(said.get("none")):
            raise forms.ValidationError(
                lazy("Tick what the label names, or that it names none of these. Not both.")
            )
        return said


def _likes(menu: Menu, row: Ingredient | None) -> list[tuple[str, str]]:
    """What it may be a bottle of: anything with alcohol that isn't itself a bottle of something."""
    items = (i for i in menu.pantry.values() if i.abv and not i.bottle_of)
    found = sorted((i.name, i.slug) for i in items if row is None or i.slug != row.slug)
    return [("", _("nothing else: it goes by its own name")), *((s, name) for name, s in found)]


def _written(row: Ingredient) -> dict[str, Any]:
    names = ("name", "kind", "aliases", "colour", "bottle_price", "step", "bottle_of")
    numbers = {n: getattr(row, n) for n in ("abv", "density", "bottle_ml")}
    said = {n: "" if value is None else f"{value:g}" for n, value in numbers.items()}
    return {**{n: getattr(row, n) for n in names}, **said}
