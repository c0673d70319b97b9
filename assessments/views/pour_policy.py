"""When a pour check is passed: the house's rule, looked at on the last checks before it is set."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _lazy

from assessments import pour_policy as policies
from assessments import record_pour_policy
from assessments.measures.pours import DEFAULT, LEAST_POURS, LEAST_WITHIN, PourPolicy
from assessments.views.finding import menu_now
from assessments.views.forms import refusals_beside
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.forms.fields import AmountField
from recipes.grammar.rules import HouseRules
from recipes.grammar.units import to_ml
from recipes.wording import label


class PolicyForm(forms.Form):
    """Amounts are in the unit in which the house rules say what a pour may be off by."""

    least_pours = forms.IntegerField(
        label=_lazy("Pours that a check takes"), min_value=LEAST_POURS[0], max_value=LEAST_POURS[1]
    )
    least_within = forms.IntegerField(
        label=_lazy("Of 100 pours so many within tolerance"),
        min_value=round(100 * LEAST_WITHIN[0]), max_value=round(100 * LEAST_WITHIN[1]),
    )  # fmt: skip

    def __init__(self, *args: Any, rules: HouseRules, now: PourPolicy, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.size = to_ml(1.0, rules.tolerance_unit)
        unit = {"unit": label(rules.tolerance_unit)}
        self.fields["tolerance"] = AmountField(
            label=_("A pour may be off by, in %(unit)s") % unit,
            help_text=_("Watched builds go by it too."),
        )
        self.fields["most_bias"] = AmountField(
            label=_("The average may be off by, in %(unit)s") % unit,
            required=False,
            help_text=_("Empty: the average isn't judged by itself."),
        )
        self.initial = {
            "tolerance": rules.tolerance,
            "least_pours": now.least_pours,
            "least_within": round(100 * now.least_within),
            "most_bias": None if now.most_bias is None else round(now.most_bias / self.size, 4),
        }
        self.order_fields(("tolerance", "least_pours", "least_within", "most_bias"))

    @property
    def policy(self) -> PourPolicy:
        said = self.cleaned_data
        bias = said["most_bias"]
        return PourPolicy(
            least_pours=said["least_pours"],
            least_within=said["least_within"] / 100,
            most_bias=None if bias is None else round(bias * self.size, 6),
        )

    @property
    def tolerance_ml(self) -> float:
        return float(self.cleaned_data["tolerance"]) * self.size


@member(May.SET_HOUSE, methods=READ_AND_SEND)
def pour_policy(request: HouseRequest) -> HttpResponse:
    """Typed and looked at (`look`), then set (`save`)."""
    menu, versions = menu_now(request), policies.versions_of(request.venue)
    now, country = policies.policy_at(versions, menu.at), menu.rules.country
    form = PolicyForm(request.POST or None, rules=menu.rules, now=now)
    looked = None
    if form.is_valid():
        with refusals_beside(form):
            if "save" in request.POST:
                record_pour_policy.set_pour_policy(
                    by=request.membership, policy=form.policy, at=timezone.now(),
                    tolerance=form.cleaned_data["tolerance"],
                )  # fmt: skip
                messages.success(request, _("Set. Checks from now on go by it."))
                return redirect("pour_policy", house=request.venue.slug)
        looked = policies.rehearse(menu, form.policy, form.tolerance_ml)
    context = {
        "form": form,
        "now": policies.in_words(now, country),
        "usual": policies.in_words(DEFAULT, country),
        "looked": looked,
        "changing": sum(row.changes for row in looked or ()),
        "versions": [(v, policies.in_words(v.policy, country)) for v in reversed(versions)],
    }
    return render(request, "assessments/pour_policy.html", context)
