"""Words for what a pasted rota leaves open."""

from __future__ import annotations

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from recipes.grammar.reasons import Reason

WORDS: dict[str, str | Promise] = {
    "rota_who_unknown": _("Nobody here is called “%(said)s”."),
    "rota_who_alike": _("“%(said)s” may be any of these: %(names)s."),
    "rota_who_none": _("It names nobody."),
    "rota_day_none_such": _("“%(said)s” is no day of the calendar."),
    "rota_day_several": _("It says more than one day."),
    "rota_day_differs": _("Its date is another day of the week than it says."),
    "rota_day_none": _("It says no day."),
    "rota_day_lost": _("Its row has more or fewer cells than there are days: which day is it?"),
    "rota_hour_none_such": _("“%(said)s” is no time of day."),
    "rota_hour_half": _("“%(said)s”: in the morning or in the evening?"),
    "rota_hour_none": _("It says no hour."),
}


def word(reason: Reason) -> str:
    return str(WORDS[reason.code]) % reason.values
