"""A pasted rota, and its lines as fields: what was read stands in them, what was not is asked."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments import record_shift
from assessments.models.shift import MOST_MINUTES
from assessments.reads import MINUTES
from barcourse.people.models import Membership, Venue

MOST_LINES = 100
LONGEST = 10_000


class RotaForm(forms.Form):
    text = forms.CharField(
        label=_("The rota"),
        help_text=_(
            "As it stands in a sheet, names down and days across. Or a shift a line: who, which "
            "day, from when (Nils, Saturday, 18:00); a day alone holds for the lines below it."
        ),
        strip=False,  # the empty corner of a table
        max_length=LONGEST,
        widget=forms.Textarea({"rows": 8}),
    )

    begins = forms.DateField(
        label=_("Day of its first column"),
        help_text=_("Only where its columns say weekdays alone, without dates."),
        required=False,
        widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"),
    )

    def clean_text(self) -> str:
        text: str = self.cleaned_data["text"]
        if not text.strip():
            raise forms.ValidationError(self.fields["text"].error_messages["required"])
        if sum(bool(line.strip()) for line in text.splitlines()) > MOST_LINES:
            raise forms.ValidationError(too_much())
        return text


def too_much() -> str:
    return now("That is too much at once: paste it in parts.")


class MinutesForm(forms.Form):
    minutes = forms.IntegerField(
        label=_("Minutes a day for study until then, for each of them"),
        min_value=1,
        max_value=MOST_MINUTES,
        initial=MINUTES,
        widget=forms.NumberInput({"inputmode": "numeric"}),
    )


class ShiftRow(forms.Form):
    """One line. Left out, it asks for nothing."""

    said = forms.CharField(widget=forms.HiddenInput, max_length=LONGEST, required=False)
    who = forms.ChoiceField(label=_("Who"))
    day = forms.DateField(label=_("Day"), widget=forms.DateInput({"type": "date"}, "%Y-%m-%d"))
    hour = forms.TimeField(label=_("From"), widget=forms.TimeInput({"type": "time"}, "%H:%M"))
    drop = forms.BooleanField(label=_("Leave this line out"), required=False)

    def __init__(
        self, *args: Any, people: dict[str, Membership], venue: Venue, at: dt.datetime, **kw: Any
    ) -> None:
        super().__init__(*args, **kw)
        self.people, self.venue, self.at = people, venue, at
        names = [(code, member.name) for code, member in people.items()]
        self.fields["who"].choices = [("", now("Nobody yet")), *names]  # type: ignore[attr-defined]
        if self.is_dropped:
            for name in ("who", "day", "hour"):
                self.fields[name].required = False

    @property
    def is_dropped(self) -> bool:
        if self.is_bound:
            return self.data.get(self.add_prefix("drop")) == "on"
        return bool(self.initial.get("drop"))

    @property
    def is_open(self) -> bool:
        """Something of it is still to be said."""
        if self.is_bound:
            return bool(self.errors)
        return not all(self.initial.get(name) for name in ("who", "day", "hour"))

    @property
    def left(self) -> list[str]:
        """What is still to be said, in sentences."""
        if not self.is_bound:
            return list(self.initial.get("left", ()))
        return [f"{self[f].label}: {e}" for f, es in self.errors.items() for e in es]

    @property
    def name(self) -> str:
        """Of whom it was read to be; empty for nobody yet."""
        found = self.people.get(str(self["who"].value() or ""))
        return found.name if found else ""

    @property
    def words(self) -> str:
        return str(self["said"].value() or "")

    def clean(self) -> None:
        typed = self.cleaned_data
        if self.is_dropped or not (typed.get("day") and typed.get("hour")):
            return
        starts_at = dt.datetime.combine(typed["day"], typed["hour"], tzinfo=self.venue.zone)
        if not record_shift.is_ahead(starts_at, self.at):
            days = {"days": record_shift.FARTHEST.days}
            said = now("That is not ahead of us: pick a moment in the next %(days)s days.") % days
            self.add_error("day", said)

    @property
    def shift(self) -> tuple[Membership, dt.datetime]:
        typed = self.cleaned_data
        starts_at = dt.datetime.combine(typed["day"], typed["hour"], tzinfo=self.venue.zone)
        return self.people[typed["who"]], starts_at


def kept_rows(rows: forms.BaseFormSet[ShiftRow]) -> list[ShiftRow]:
    return [row for row in rows.forms if not row.is_dropped]


class _Rows(forms.BaseFormSet[ShiftRow]):
    def clean(self) -> None:
        """Of two lines that say the same, one is to be left out."""
        seen: set[tuple[int, dt.datetime]] = set()
        for row in kept_rows(self):
            if row.errors:
                continue
            member, starts_at = row.shift
            key = (member.pk, starts_at)
            if key in seen:
                row.add_error("day", now("They stand at that hour already: leave one line out."))
            seen.add(key)
        if not kept_rows(self):
            raise forms.ValidationError(now("No line is left to set."))


ShiftRows = forms.formset_factory(
    ShiftRow, formset=_Rows, extra=0, max_num=MOST_LINES, absolute_max=MOST_LINES
)
