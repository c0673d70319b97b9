"""The form on which a new revision of a drink is written."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.forms.fields import EffectField
from recipes.grammar.ingredients import WETS_A_RIM, Ingredient
from recipes.grammar.kinds import goes_on_a_rim
from recipes.grammar.lines import read_garnish, read_parts, write_garnish, write_parts
from recipes.grammar.reasons import CannotBuild, Value
from recipes.grammar.spec import BuildSpec, Ice, Method
from recipes.menu import Menu
from recipes.saying import sentences
from recipes.wording import label
from recipes.words_amounts import US_MEASURES

LEFT = "-"
"""Left to the house, or simply not there: a choice of its own, so that no field looks optional."""
_STRAW = {None: LEFT, True: "yes", False: "no"}

_FIELDS = {
    "unknown_glass": "glass",
    "layer_over_ice": "ice",
    "layer_of_one": "method",
    "layer_with_top": "method",
    "rim_with_nothing_to_wet": "rim",
    "garnish_twice": "garnish",
    "no_alcohol": "alcohol_free",
    "alcohol_in_alcohol_free": "alcohol_free",
    "takes_effect_in_the_past": "takes_effect_at",
}
_OF_THE_WHOLE = frozenset({"revision_unchanged", "field_missing", "field_unknown", "not_readable"})


_HELP_IN_ML = lazy(
    "One thing a line: “1 pour vodka”, “top cranberry juice”, “2 dashes bitters”, "
    "“muddle 6 leaves mint”, “first in 15 ml grenadine”, “float 15 ml cream”. "
    "Base spirit first. Two top-ups share the space equally; “top 2 shares cola” gives "
    "one of them twice as much. An “oz” is read as the US fluid ounce, 29.6 ml."
)


class DrinkForm(forms.Form):
    """Everything that a recipe may say; what is left to the house says so."""

    parts = forms.CharField(
        label=lazy("What goes in"),
        help_text=lazy(
            "One thing a line: “1 pour vodka”, “top cranberry juice”, “2 dashes bitters”, "
            "“muddle 6 leaves mint”, “first in 0.5 fl oz grenadine”, “float 15 ml cream”. "
            "Base spirit first. Two top-ups share the space equally; “top 2 shares cola” gives "
            "one of them twice as much."
        ),
        error_messages={"required": lazy("Type at least one thing that goes in.")},
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 6, "spellcheck": "false", "autocapitalize": "off"}),
    )
    method = forms.ChoiceField(label=lazy("Method"))
    glass = forms.ChoiceField(label=lazy("Glass"))
    ice = forms.ChoiceField(label=lazy("Ice"))
    garnish = forms.CharField(
        label=lazy("Garnish"),
        help_text=lazy(
            "One a line: “always lime wedge”, “ask lemon”, “on request mint”. “none” puts nothing "
            "on it. Leave it empty and the house rules decide."
        ),
        max_length=1000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3, "spellcheck": "false", "autocapitalize": "off"}),
    )
    rim = forms.ChoiceField(label=lazy("Rim"))
    wet_with = forms.ChoiceField(label=lazy("Rim wet with"))
    half = forms.BooleanField(label=lazy("Only half of the rim"), required=False)
    straw = forms.ChoiceField(label=lazy("Straw"))
    alcohol_free = forms.BooleanField(label=lazy("No alcohol in it, and so meant"), required=False)
    takes_effect_at = EffectField(
        help_text=lazy("Leave it empty and it counts at once. Times are the house's own.")
    )

    def __init__(self, *args: Any, menu: Menu, build: BuildSpec | None, **kwargs: Any) -> None:
        self.menu = menu
        kwargs["initial"] = _written(build, menu) if build else {}
        super().__init__(*args, **kwargs)
        if menu.rules.country not in US_MEASURES:
            self.fields["parts"].help_text = _HELP_IN_ML
        house = (LEFT, _("as the house rules say"))
        rim = build.rim if build else None
        self._offer("method", [(m.value, label(m)) for m in Method])
        self._offer("glass", [house, *menu.glass_names.items()])
        self._offer("ice", [house, *((i.value, label(i)) for i in Ice)])
        rims = self._stock(goes_on_a_rim, rim.item if rim else None)
        self._offer("rim", [(LEFT, _("no rim")), *rims])
        wet = self._stock(lambda i: i.kind in WETS_A_RIM, rim.wet_with if rim else None)
        self._offer("wet_with", [(LEFT, _("its own citrus")), *wet])
        self._offer("straw", [house, ("yes", _("yes")), ("no", _("no"))])

    def _offer(self, name: str, choices: Iterable[tuple[str, str]]) -> None:
        self.fields[name].choices = list(choices)  # type: ignore[attr-defined]  # it has them

    def _stock(self, fits: Callable[[Ingredient], bool], also: str | None) -> list[tuple[str, str]]:
        """Ingredients that fit, by name, and the one that the recipe has already."""
        stocked = self.menu.pantry.values()
        found = [(i.slug, i.name) for i in stocked if fits(i) or i.slug == also]
        return sorted(found, key=lambda pair: pair[1].casefold())

    def clean_parts(self) -> Any:
        return self._read(read_parts, "parts")

    def clean_garnish(self) -> Any:
        return self._read(read_garnish, "garnish")

    def _read(self, read: Callable[..., Any], name: str) -> Any:
        try:
            return read(self.cleaned_data[name], self.menu.pantry)
        except CannotBuild as bad:
            raise ValidationError(sentences(bad.reasons, self.menu)) from bad

    @property
    def takes_effect(self) -> dt.datetime | None:
        found: dt.datetime | None = self.cleaned_data["takes_effect_at"]
        return found

    def spec(self) -> dict[str, Any]:
        """What the form says, for `publish_revision`; call it on a valid form."""
        said = self.cleaned_data

        def unless_left(name: str) -> str | None:
            return None if said[name] == LEFT else str(said[name])

        rim = {"item": said["rim"], "wet_with": unless_left("wet_with"), "half": said["half"]}
        return {
            "glass": unless_left("glass"),
            "ice": unless_left("ice"),
            "method": said["method"],
            "rim": rim if unless_left("rim") else None,
            "parts": said["parts"],
            "garnish": said["garnish"],
            "straw": {word: value for value, word in _STRAW.items()}[said["straw"]],
            "alcohol_free": said["alcohol_free"],
        }

    def field_for(self, code: str, values: Mapping[str, Value]) -> str | None:
        """The field that a refusal of this drink stands beside; None: of the whole."""
        if code in _OF_THE_WHOLE:
            return None
        return _FIELDS.get(code, "parts")


def _written(build: BuildSpec, menu: Menu) -> dict[str, Any]:
    return {
        "parts": write_parts(build.parts, menu.pantry),
        "method": build.method.value,
        "glass": build.glass or LEFT,
        "ice": build.ice.value if build.ice else LEFT,
        "garnish": write_garnish(build.garnish, menu.pantry),
        "rim": build.rim.item if build.rim else LEFT,
        "wet_with": (build.rim and build.rim.wet_with) or LEFT,
        "half": bool(build.rim and build.rim.half),
        "straw": _STRAW[build.straw],
        "alcohol_free": build.alcohol_free,
    }
