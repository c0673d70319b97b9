"""What is typed on the people's pages. Forms check the shape; the verbs of `enrol` the rules."""

from __future__ import annotations

import datetime as dt
import zoneinfo
from collections.abc import Iterable
from typing import Any, cast

from django import forms
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.dates import MONTHS, WEEKDAYS
from django.utils.translation import gettext_lazy as _

from .lists import BadLines, read_names
from .models import Invitation, Membership, Station, Venue
from .models.permit import PermitKind
from .models.side_work import Moment
from .models.venue import Country
from .name_like import name_like
from .names import NAME_LENGTH
from .reasons import Reason, Refused, refuse
from .refusals import choices as what_choices
from .roles import MAY_INVITE_AS, Role
from .wording import say

PASSWORD_LENGTH = 128


class refusals_beside:  # noqa: N801  (reads as a word: `with refusals_beside(form):`)
    """Put a verb's refusal into the form, beside its field, and go on after the block."""

    def __init__(self, form: forms.BaseForm) -> None:
        self.form = form

    def __enter__(self) -> None:
        pass

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: object
    ) -> bool:
        if not isinstance(error, Refused):
            return False
        field = error.field if error.field in self.form.fields else None
        self.form.add_error(field, say(error.reason))
        return True


def _sign_in_field() -> forms.CharField:
    return forms.CharField(
        label=_("Sign-in name"),
        help_text=_("Your e-mail address or a nickname."),
        max_length=NAME_LENGTH,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )


def _password_field(*, new: bool) -> forms.CharField:
    return forms.CharField(
        label=_("Password"),
        help_text=_("Three or four words you won't forget do well.") if new else "",
        max_length=PASSWORD_LENGTH,
        strip=False,
        widget=forms.PasswordInput(
            attrs={"autocomplete": "new-password" if new else "current-password"}
        ),
    )


def zones(current: str = "") -> list[tuple[str, str]]:
    """Every zone that is named after a place, and the one already set."""
    names = {zone for zone in zoneinfo.available_timezones() if "/" in zone}
    places = {zone for zone in names if not zone.startswith(("Etc/", "SystemV/", "US/"))}
    return [(zone, zone.replace("_", " ")) for zone in sorted(places | {current or "UTC", "UTC"})]


def zones_to_choose() -> list[tuple[str, str]]:
    """Nothing chosen to begin with: the first zone of the alphabet is hardly anybody's."""
    return [("", str(_("Choose the time zone"))), *zones()]


class SignInForm(forms.Form):
    sign_in = _sign_in_field()
    password = _password_field(new=False)
    next = forms.CharField(required=False, widget=forms.HiddenInput)


class NewPersonForm(forms.Form):
    """Joining as somebody new."""

    sign_in = _sign_in_field()
    password = _password_field(new=True)


class KnownPersonForm(forms.Form):
    """Joining with the sign-in one has from another house, or from before."""

    sign_in = _sign_in_field()
    password = _password_field(new=False)


class NewPasswordForm(forms.Form):
    """Behind a link, in place of a password that was forgotten."""

    password = _password_field(new=True)


class OpenHouseForm(forms.Form):
    name = forms.CharField(label=_("Name of the house"), max_length=NAME_LENGTH)
    country = forms.ChoiceField(label=_("Country"), choices=Country)
    timezone = forms.ChoiceField(label=_("Time zone"), choices=zones_to_choose)
    owner_name = forms.CharField(
        label=_("Your name"),
        max_length=NAME_LENGTH,
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    sign_in = _sign_in_field()
    password = _password_field(new=True)


class InviteForm(forms.Form):
    names = forms.CharField(
        label=_("Who is to come?"),
        help_text=_(
            "One name on each line. A role may follow after a comma; without one it is a trainee. "
            "A list pasted from a spreadsheet works too."
        ),
        max_length=10_000,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )

    def __init__(self, by: Membership, data: Any = None) -> None:
        super().__init__(data)
        self.by, self.allowed = by, MAY_INVITE_AS[Role(by.role)]

    def clean_names(self) -> list[tuple[str, Role]]:
        try:
            return read_names(self.cleaned_data["names"], self.allowed, _taken(self.by))
        except Refused as refused:
            raise forms.ValidationError(say(refused.reason)) from refused
        except BadLines as bad:
            raise forms.ValidationError([_say_line(*line) for line in bad.lines]) from bad


def _taken(by: Membership) -> dict[str, str]:
    """The names the house has, in small letters, each with the reason to refuse it."""
    venue = by.venue
    invited = Invitation.objects.in_house(venue).waiting().values_list("name", flat=True)
    here = Membership.objects.in_house(venue).here(venue.business_day(timezone.now()))
    names = dict.fromkeys((name.casefold() for name in invited), "name_invited")
    for name in here.values_list("person__name", flat=True):
        names[name.casefold()] = "name_here"
    return names


def _say_line(number: int, text: str, why: Reason) -> str:
    return say(Reason.of("list_line_bad", line=number, text=text, why=say(why)))


class RoleForm(forms.Form):
    role = forms.ChoiceField(label=_("What they do here"), choices=Role, widget=forms.RadioSelect)


class LeftForm(forms.Form):
    day = forms.DateField(
        label=_("First day without them"),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    @classmethod
    def today(cls, today: dt.date) -> LeftForm:
        return cls(initial={"day": today})


class EraseForm(forms.Form):
    sure = forms.BooleanField(
        label=_("Yes, erase the name and all words about them. This can't be undone.")
    )


def _pin_field(label: Any, help_text: Any = "") -> forms.CharField:
    return forms.CharField(
        label=label,
        help_text=help_text,
        max_length=20,
        widget=forms.PasswordInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )


class PinForm(forms.Form):
    """What is entered on a shared tablet; `who` is the code of a membership."""

    who = forms.CharField(widget=forms.HiddenInput)
    pin = _pin_field(_("Your PIN"))


class SetPinForm(forms.Form):
    password = _password_field(new=False)
    pin = _pin_field(_("New PIN"), _("Four to eight digits. It works on this house's tablets."))
    again = _pin_field(_("The same once more"))

    def clean_again(self) -> str:
        again: str = self.cleaned_data["again"]
        if again != self.cleaned_data.get("pin", again):
            raise forms.ValidationError(say(refuse("pin_not_the_same").reason))
        return again


def _calendar_words() -> list[str]:
    return [str(name) for names in (WEEKDAYS, MONTHS) for name in names.values()]


class RefusalForm(forms.Form):
    """One tap on what it was; the time stands there already."""

    what = forms.ChoiceField(
        label=_("What was it?"), widget=forms.RadioSelect, choices=what_choices
    )
    time = forms.TimeField(
        label=_("When?"), widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M")
    )
    words = forms.CharField(
        label=_("In a few words"),
        help_text=_("Without anybody's name. It can be erased later; the rest is sealed."),
        required=False,
        max_length=500,
        widget=forms.Textarea(attrs={"rows": 2}),
    )

    sure_words = _("It is nobody's name")
    doubted = ""

    @property
    def is_sure(self) -> bool:
        return bool(self.doubted) and self.data.get("sure") == self.doubted

    def is_nameless(self, known: Iterable[str]) -> bool:
        """Whether the words may be kept. What looks like a name is asked about once; the tick that
        says it is none carries the question, so that it stands for no other. `known`: the house's
        own words with capital letters."""
        found = name_like(self.cleaned_data["words"], [*known, *_calendar_words()])
        if not found:
            return True
        self.doubted = str(_("“%(name)s”: is this a guest's name? Leave it out.") % {"name": found})
        if not self.is_sure:
            self.add_error(None, self.doubted)
        return self.is_sure


class PermitForm(forms.Form):
    member = forms.ModelChoiceField(
        label=_("Whose?"), queryset=Membership.objects.none(), to_field_name="code"
    )
    kind = forms.ChoiceField(label=_("Which?"), choices=PermitKind)
    number = forms.CharField(
        label=_("Number"),
        help_text=_("It can be erased; the sealed log never holds it."),
        required=False,
        max_length=100,
    )
    valid_until = forms.DateField(
        label=_("Last day on which it holds"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )

    def __init__(self, members: QuerySet[Membership], data: Any = None) -> None:
        super().__init__(data)
        cast("forms.ModelChoiceField[Membership]", self.fields["member"]).queryset = members
        self.fields["member"].label_from_instance = _name_of  # type: ignore[attr-defined]


def _name_of(member: Membership) -> str:
    return member.name


class SideTaskForm(forms.Form):
    station = forms.ModelChoiceField(
        label=_("Station"), queryset=Station.objects.none(), to_field_name="slug"
    )
    when = forms.ChoiceField(label=_("When"), choices=Moment)
    text = forms.CharField(label=_("What is done"), max_length=200)
    caution = forms.CharField(
        label=_("Caution"),
        help_text=_("It stands beside the task wherever it is shown."),
        required=False,
        max_length=300,
    )
    hours = forms.IntegerField(
        label=_("Thrown away after so many hours"), required=False, min_value=1, max_value=168
    )

    def __init__(self, venue: Venue, data: Any = None) -> None:
        super().__init__(data)
        stations = cast("forms.ModelChoiceField[Station]", self.fields["station"])
        stations.queryset = venue.stations.all()


class TakeBackForm(forms.Form):
    reason = forms.CharField(label=_("Why does it not count?"), max_length=500)


class TabletForm(forms.Form):
    name = forms.CharField(
        label=_("What do you call it?"), help_text=_("Where it stands."), max_length=NAME_LENGTH
    )


class EmptyForm(forms.Form):
    """A button; it only has somewhere to put a refusal."""


class HouseForm(forms.ModelForm[Venue]):
    """Each field of `Venue.SETTINGS`; saving is `enrol.change_house`, not this form."""

    class Meta:
        model = Venue
        fields = Venue.SETTINGS

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["timezone"] = forms.ChoiceField(
            label=_("Time zone"), choices=zones(self.instance.timezone)
        )

    def changes(self) -> dict[str, object]:
        return {field: self.cleaned_data[field] for field in self.changed_data}
