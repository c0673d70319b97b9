"""What became of a sheet of recipes, in words."""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from barcourse.people.reasons import Reason as PeopleReason
from recipes import words_editing
from recipes.grammar.reasons import Reason
from recipes.imported import Outcome, Taken
from recipes.menu import Menu
from recipes.saying import sentence
from recipes.wording import word

OUTCOMES: dict[Outcome, str | Promise] = {
    Outcome.ADDED: lazy("new"),
    Outcome.CHANGED: lazy("changed"),
    Outcome.UNCHANGED: lazy("as it is already"),
    Outcome.REFUSED: lazy("refused"),
}


def why(row: Taken, menu: Menu) -> list[str]:
    """Why the row was refused, a sentence a reason, without its line."""
    return [_said(reason, menu) for reason in row.reasons]


def named(row: Taken) -> str:
    """Which row it is."""
    told = {"line": row.line, "drink": row.name}
    return _("Line %(line)s, %(drink)s") % told if row.name else _("Line %(line)s") % told


def sheet_problems(reasons: Iterable[Reason]) -> list[str]:
    """Why the whole is no sheet of recipes; a line begins the sentence where there is one."""
    return [word(reason) for reason in reasons]


def _said(reason: Reason | PeopleReason, menu: Menu) -> str:
    if isinstance(reason, PeopleReason):
        return words_editing.say(reason)
    values = {k: v for k, v in reason.values.items() if k not in ("line", "drink")}
    if "drink" in reason.values and reason.code in ("row_twice", "near_drink"):
        values["drink"] = reason.values["drink"]
    return sentence(Reason.of(reason.code, **values), menu)
