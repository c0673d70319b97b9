"""Why something was not published, for whoever wanted it: the sentence, and whose it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from recipes.grammar.reasons import Reason
from recipes.menu import Menu
from recipes.wording import word

PUBLISHING: dict[str, str | Promise] = {
    "takes_effect_in_the_past": lazy(
        "That moment has passed. Choose a later one, or leave it empty."
    ),
    "rules_unchanged": lazy("These are the rules already. Nothing was published."),
    "revision_unchanged": lazy("It is built like this already. Nothing was published."),
}
"""Words for `publish.CODES`."""

MOST_SAID = 5
"""Sentences shown of one kind before the rest is only counted."""


def sentence(reason: Reason, menu: Menu, drinks: Mapping[str, str] | None = None) -> str:
    """The sentence in the reader's language. With `drinks` (names by slug) it begins with the
    drink that it is about."""
    if reason.code in PUBLISHING:
        return str(PUBLISHING[reason.code])
    said = word(reason, names=menu.names, glass_names=menu.glass_names, country=menu.rules.country)
    values = reason.values
    if "rules" in values:
        told = {"number": values["rules"], "said": said}
        said = _("Under house rules %(number)s, which are to come: %(said)s") % told
    if drinks and "drink" in values:
        slug = str(values["drink"])
        said = _("%(drink)s: %(said)s") % {"drink": drinks.get(slug, slug), "said": said}
    return said


def sentences(
    reasons: Iterable[Reason], menu: Menu, drinks: Mapping[str, str] | None = None
) -> list[str]:
    """The first few of each kind; how many more there are is said, so that a small glass doesn't
    fill the page with every drink that no longer fits in it."""
    met: Counter[str] = Counter()
    said = []
    for reason in reasons:
        met[reason.code] += 1
        if met[reason.code] <= MOST_SAID:
            said.append(sentence(reason, menu, drinks))
    more = sum(count - MOST_SAID for count in met.values() if count > MOST_SAID)
    if more:
        text = ngettext("And so it is with %(n)s more.", "And so it is with %(n)s more.", more)
        said.append(text % {"n": more})
    return said
