"""What ready takes, as a manager sets it; who stands for one shift."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.measures.ready_facts import Proof as ProofAsked
from assessments.measures.ready_facts import ReadyPolicy
from assessments.models.policy import Proof
from assessments.views.forms import WordsField
from assessments.wording_refusals import WORDS
from barcourse.people.models.permit import PermitKind

DAY = {"type": "date"}
OF_ORDERS = (
    "least_right", "most_wrong", "second_right", "proof", "pour_days", "least_pace", "pace_days",
)  # fmt: skip
"""Fields that only a station with orders has."""


def _told(words: Any) -> dict[str, Any]:
    """What the framework says in several ways, in these words alone."""
    return dict.fromkeys(("required", "invalid", "invalid_choice"), words)


DAYS_OR_NONE = _told(_("Type a whole number of days, such as 30, or leave it empty."))


class PolicyForm(forms.Form):
    """Everything that a policy asks for. What is left empty is not asked for."""

    least_right = forms.IntegerField(
        label=_("Ready: of 100 orders at least so many right"), min_value=0, max_value=100,
        help_text=_("Compared with the low end of what we know."),
        error_messages=_told(_("Type a whole number, such as 70.")),
    )  # fmt: skip
    most_wrong = forms.IntegerField(
        label=_("Ready: of 100 orders at most so many wrong"), min_value=0, max_value=100,
        error_messages=_told(_("Type a whole number, such as 10.")),
    )  # fmt: skip
    second_right = forms.IntegerField(
        label=_("Second: of 100 orders at least so many right"), min_value=0, max_value=100,
        error_messages=_told(_("Type a whole number, such as 50.")),
    )  # fmt: skip
    proof = forms.ChoiceField(
        label=_("Sign-offs"), choices=Proof.choices, widget=forms.RadioSelect,
        error_messages=_told(_("Pick one of the two.")),
    )  # fmt: skip
    permits = forms.MultipleChoiceField(
        label=_("Permits in force"), choices=PermitKind.choices, required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("What local law asks for. They are noted under Permits."),
        error_messages=_told(_("Pick from those that stand here.")),
    )  # fmt: skip
    pour_days = forms.IntegerField(
        label=_("Pour check passed in the last so many days"), required=False, min_value=1,
        max_value=366, error_messages=DAYS_OR_NONE,
    )  # fmt: skip
    least_pace = forms.IntegerField(
        label=_("Drinks an hour in a pace check"), required=False, min_value=1, max_value=600,
        help_text=_("60 to 100 with payment is usual (common practice, no source)."),
        error_messages=_told(_("Type a whole number, such as 60, or leave it empty.")),
    )  # fmt: skip
    pace_days = forms.IntegerField(
        label=_("Pace check in the last so many days"), required=False, min_value=1, max_value=366,
        error_messages=DAYS_OR_NONE,
    )  # fmt: skip
    task_days = forms.IntegerField(
        label=_("Without orders: side work signed for in the last so many days"), min_value=1,
        max_value=366, error_messages=_told(_("Type a whole number of days, such as 30.")),
        help_text=_("A rule of conduct broken in a watched build counts for as many days."),
    )  # fmt: skip
    from_day = forms.DateField(
        label=_("From"), required=False, widget=forms.DateInput(DAY, format="%Y-%m-%d"),
        help_text=_("From now on where no day is said."),
        error_messages=_told(_("Pick a day, or leave it empty: then it is from now on.")),
    )  # fmt: skip

    def __init__(self, data: Any, *, now: ReadyPolicy, takes_orders: bool) -> None:
        super().__init__(data, initial=_initial(now))
        self.now = now
        for name in () if takes_orders else OF_ORDERS:
            del self.fields[name]

    def clean(self) -> dict[str, Any]:
        typed = self.cleaned_data
        if "least_pace" in self.fields and (
            (typed.get("least_pace") is None) != (typed.get("pace_days") is None)
        ):
            self.add_error("pace_days", _("A pace goes with the days in which it was made."))
        if typed.get("second_right", 0) > typed.get("least_right", 100):
            self.add_error("second_right", str(WORDS["second_above_ready"]))
        return typed

    @property
    def policy(self) -> ReadyPolicy:
        """What was typed; fields that this station has not stay as they are."""
        said = _initial(self.now) | self.cleaned_data
        return ReadyPolicy(
            least_right=said["least_right"] / 100,
            most_wrong=said["most_wrong"] / 100,
            second_right=said["second_right"] / 100,
            proof=ProofAsked(said["proof"]),
            permits=tuple(said["permits"]),
            pour_days=said["pour_days"],
            least_pace=said["least_pace"],
            pace_days=said["pace_days"],
            task_days=said["task_days"],
        )


def _initial(now: ReadyPolicy) -> dict[str, Any]:
    return {
        "least_right": round(100 * now.least_right),
        "most_wrong": round(100 * now.most_wrong),
        "second_right": round(100 * now.second_right),
        "proof": now.proof.value,
        "permits": list(now.permits),
        "pour_days": now.pour_days,
        "least_pace": now.least_pace,
        "pace_days": now.pace_days,
        "task_days": now.task_days,
    }


class OnceForm(forms.Form):
    """One shift and why."""

    day = forms.DateField(
        label=_("Shift of"), widget=forms.DateInput(DAY, format="%Y-%m-%d"),
        help_text=_("A night that goes past midnight belongs to the evening before."),
        error_messages=_told(_("Pick the day on which that shift begins.")),
    )  # fmt: skip
    part = forms.ChoiceField(
        label=_("Which part"), widget=forms.RadioSelect, initial="late",
        choices=(("early", _("before ten in the evening")), ("late", _("from ten on"))),
        error_messages=_told(_("Pick before ten or from ten on.")),
    )  # fmt: skip
    reason = WordsField(
        label=_("Why?"), help_text=_("It stands beside the name. It can be erased later."),
        error_messages={
            "required": _("Write why they may stand for this shift: it stands beside their name.")
        },
    )  # fmt: skip
