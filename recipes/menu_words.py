"""How a drink stands on the menu, and what changed there, in words."""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from recipes.models import Recipe
from recipes.publish import OnMenu, standing_of

STANDING: dict[OnMenu, str | Promise] = {
    OnMenu.OFF: lazy("not poured"),
    OnMenu.POURED: lazy("poured"),
    OnMenu.MUST_KNOW: lazy("must-know"),
}
_CHANGED: dict[OnMenu, str | Promise] = {
    OnMenu.MUST_KNOW: lazy("Must-know now: %(names)s."),
    OnMenu.POURED: lazy("Poured now: %(names)s."),
    OnMenu.OFF: lazy("Not poured any more: %(names)s."),
}
MOST_NAMED = 6
"""Names said before the rest is only counted."""


def standing_words(standing: OnMenu) -> str:
    return str(STANDING[standing])


def changed_words(changed: Iterable[Recipe]) -> str:
    """What a new menu changed, by name."""
    rows = list(changed)
    if not rows:
        return _("Nothing changed: the menu was like this already.")
    said = []
    for standing, text in _CHANGED.items():
        if names := [r.name for r in rows if standing_of(r) is standing]:
            said.append(str(text) % {"names": _named(names)})
    return " ".join(said)


def _named(names: list[str]) -> str:
    more = len(names) - MOST_NAMED
    if more <= 0:
        return ", ".join(names)
    text = ngettext("%(names)s and %(n)s more", "%(names)s and %(n)s more", more)
    return text % {"names": ", ".join(names[:MOST_NAMED]), "n": more}


def overtaken_words(drink: str, theirs: OnMenu, mine: OnMenu) -> str:
    """Of a drink that two people have marked otherwise at once."""
    told = {"drink": drink, "theirs": standing_words(theirs), "mine": standing_words(mine)}
    return (
        _(
            "%(drink)s: somebody else has set it to “%(theirs)s” meanwhile, and you to “%(mine)s”. "
            "Save once more and yours counts."
        )
        % told
    )
