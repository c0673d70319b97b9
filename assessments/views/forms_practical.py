"""What is typed beside a pour check, a pace check and a round."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.measures.pace_check import MOST_ORDERS, SEEDS, Error
from assessments.measuring import fine_words, unit_of
from assessments.models.watch import MadeWith
from assessments.record_practical import GRAMS
from assessments.tickets import Drawn
from assessments.views.forms import LONGEST_BUILD_S, DoubtedForm, HelpField, MadeWithField
from assessments.wording_practical import ERRORS
from recipes.grammar.ingredients import Ingredient, LiquorClass
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.units import Unit
from recipes.menu import Menu
from recipes.wording import label

FIELDS = 20
"""Fields for pours: half of them stand open."""

UNITS = (
    (Unit.FLOZ.value, _("fl oz, in a cylinder")),
    (Unit.ML.value, _("ml, in a cylinder")),
    (GRAMS, _("g, on a scale")),
)
POURED = (LiquorClass.SPIRIT, LiquorClass.LIQUEUR, LiquorClass.FORTIFIED, LiquorClass.WINE)
SIZES = (("1", _("one pour")), ("2", _("a double: two pours at once")))

POURED_WHAT = ((MadeWith.WATER.value, _("water")), (MadeWith.STOCK.value, _("the drink itself")))


class PoursForm(DoubtedForm):
    """What was poured and how it was measured; the pours themselves are fields of the page."""

    ingredient = forms.ChoiceField(
        label=_("Poured from"), error_messages={"required": _("Say which bottle was poured from.")}
    )
    unit = forms.ChoiceField(label=_("Read off in"), choices=UNITS, widget=forms.RadioSelect)
    pours = forms.ChoiceField(
        label=_("Each was to be"), choices=SIZES, widget=forms.RadioSelect, initial="1"
    )
    made_with = forms.ChoiceField(
        label=_("What was poured"), choices=POURED_WHAT, widget=forms.RadioSelect,
        help_text=_("Water is cheaper to learn with. What was the drink itself counts as used."),
        error_messages={"required": _(
            "Say what was poured: the drink itself is missing from the count, and weighs otherwise."
        )},
    )  # fmt: skip
    pours_a_week = forms.IntegerField(
        label=_("Pours of it a week"), required=False, min_value=1, max_value=100_000,
        help_text=_("With the price of the bottle it says what a week costs."),
    )  # fmt: skip

    def __init__(self, *args: Any, menu: Menu, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        country = menu.rules.country
        self.fields["ingredient"].choices = bottles(menu)  # type: ignore[attr-defined]
        self.fields["unit"].initial = unit_of(country).value


Choices = list[tuple[str, str | list[tuple[str, str]]]]


def bottles(menu: Menu) -> Choices:
    """What has a house pour, under what it is, spirits first; none stands chosen, so that no check
    is kept of a bottle that nobody named. Of what comes by stamped measure its name says so, since
    one bottle may be poured freely where another may not."""
    found = sorted(
        (i for i in menu.pantry.values() if _is_poured(i, menu)), key=lambda i: i.name.casefold()
    )
    groups = [
        (
            label(kind).capitalize(),
            [(i.slug, _bottle(menu, i)) for i in found if i.liquor_class is kind],
        )
        for kind in POURED
    ]
    return [("", str(_("which bottle?"))), *((name, of) for name, of in groups if of)]


def _bottle(menu: Menu, item: Ingredient) -> str:
    if menu.rules.pours[item.liquor_class].measured_by is MeasuredBy.STAMPED:
        return _("%(bottle)s (stamped)") % {"bottle": item.name}
    return item.name


def pours_here(menu: Menu) -> list[tuple[str, str]]:
    """What is measured here, those alike together: how much, how, and what it may be off by."""
    alike: dict[str, list[str]] = {}
    for kind in POURED:
        if kind in menu.rules.pours:
            alike.setdefault(str(_pour(menu, kind)), []).append(label(kind))
    return [(str(_(", ")).join(kinds).capitalize(), said) for said, kinds in alike.items()]


def _pour(menu: Menu, kind: LiquorClass) -> str:
    rule, country = menu.rules.pours[kind], menu.rules.country
    values = {
        "amount": fine_words(rule.ml, country), "how": label(rule.measured_by),
        "off": fine_words(menu.rules.tolerance_ml, country),
    }  # fmt: skip
    if rule.measured_by is MeasuredBy.STAMPED:
        return _("%(amount)s %(how)s, never under, no free pouring") % values
    return _("%(amount)s %(how)s, give or take %(off)s") % values


def _is_poured(item: Ingredient, menu: Menu) -> bool:
    return item.liquor_class in POURED and item.liquor_class in menu.rules.pours


class TicketForm(forms.Form):
    """Which ticket; sent by GET, so that the same address is the same ticket."""

    station = forms.SlugField(required=False)
    orders = forms.IntegerField(
        label=_("Orders"), required=False, min_value=1, max_value=MOST_ORDERS
    )
    seed = forms.IntegerField(
        label=_("Ticket number"), required=False, min_value=0, max_value=SEEDS,
        help_text=_("The same number gives the same ticket, as long as the menu stays."),
    )  # fmt: skip
    rung_up = forms.ChoiceField(choices=(("yes", "yes"), ("no", "no")), required=False)


class PaceForm(DoubtedForm):
    """The clock, and a count for each kind of error that can happen there."""

    seconds = forms.IntegerField(
        label=_("Seconds taken"), min_value=1, max_value=2 * LONGEST_BUILD_S
    )

    def __init__(self, *args: Any, drawn: Drawn, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for kind in Error:
            if kind is not Error.RUNG_UP or drawn.rung_up:
                self.fields[kind.value] = forms.IntegerField(
                    label=str(ERRORS[kind]), required=False, min_value=0, max_value=drawn.count
                )

    @property
    def errors_made(self) -> dict[Error, int]:
        return {kind: self.cleaned_data.get(kind.value) or 0 for kind in Error}


class MadeWithForm(DoubtedForm):
    """Water or stock, of several builds at once."""

    made_with = MadeWithField()


class SideForm(forms.Form):
    """What is said of one of two builds side by side."""

    help_level = HelpField()
    seconds = forms.IntegerField(
        label=_("Seconds taken"), required=False, min_value=0, max_value=LONGEST_BUILD_S
    )


class RoundForm(SideForm, MadeWithForm):
    """What is said of the whole round, beside its drinks and its order."""

    picked_up_again = forms.IntegerField(
        label=_("Bottles picked up a second time"), required=False, min_value=0, max_value=50
    )

    field_order = ("help_level", "made_with", "picked_up_again", "seconds")
