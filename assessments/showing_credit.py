"""What a try-out showed, in words for whoever took it and whoever offered it: which drinks and
house rules need not be taught any more, which will be, and which builds are worth watching."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments import tryouts
from assessments.measures import tryout
from assessments.models import TryOut
from assessments.models.sheet import Stands
from assessments.wording import aspects_words
from barcourse.people.models import Membership
from recipes.menu import Menu
from recipes.models import Module
from recipes.wording import label
from recipes.words_rule_topics import rule_says

STANDS = dt.timedelta(days=14)
"""So long it stands on *Next shift*; on the result it stays (our own number, no source)."""


@dataclass(frozen=True)
class RulesShown:
    """House rules in words, by what the answers showed of each."""

    known: list[str]
    to_teach: list[str]
    open: list[str]

    @property
    def count(self) -> int:
        return len(self.known) + len(self.to_teach) + len(self.open)


@dataclass(frozen=True)
class CreditShown:
    """Drinks by name; `to_teach` with the parts that were wrong, `watch` with their slugs. `never`
    are the modules that nobody is ready without, whatever they showed."""

    at: dt.datetime
    hire: Membership
    known: list[str]
    to_teach: list[tuple[str, str]]
    open: list[str]
    watch: list[tuple[str, str]]
    rules: RulesShown
    never: list[Module]

    @property
    def teach_names(self) -> list[str]:
        return [name for name, _parts in self.to_teach]

    @property
    def watch_names(self) -> str:
        return _(", ").join(name for _slug, name in self.watch)


def credit_shown(row: TryOut, menu: Menu) -> CreditShown | None:
    """By today's menu: what the house builds otherwise since is no longer known. None before a
    try-out is over, be it that only its time is up."""
    if row.quiz is None or row.stands(menu.at) is Stands.RUNS:
        return None
    known = tryouts.known(row.quiz)
    found = tryout.credit(menu.drinks, known)
    names = {d.slug: d.name for d in menu.drinks}
    return CreditShown(
        at=row.finished_at or row.quiz.ends_at or menu.at,
        hire=row.hire,
        known=[names[s] for s in found.known],
        to_teach=[(names[s], aspects_words(list(a))) for s, a in found.to_teach],
        open=[names[s] for s in found.open],
        watch=[(s, names[s]) for s in found.watch],
        rules=_rules(menu, known),
        never=list(Module.objects.in_house(menu.venue).gates()),
    )


def latest_credit(hire: Membership, menu: Menu) -> CreditShown | None:
    """Of the newest try-out that is over, while it still stands on *Next shift*."""
    rows = TryOut.objects.of(hire).over_since(menu.at - STANDS).select_related("quiz", "hire")
    last = rows.newest_first().first()
    return credit_shown(last, menu) if last else None


def _rules(menu: Menu, known: tryout.Known) -> RulesShown:
    """Every rule once, worded by the drink that sells most of those that go by it."""
    words: dict[str, str] = {}
    for drink in sorted(menu.drinks, key=lambda d: (-d.share, d.slug)):
        for topic in drink.topics:
            if topic.rule and topic.fingerprint not in words:
                says = rule_says(topic.rule, drink.spec, menu)
                words[topic.fingerprint] = _("%(part)s, as in %(drink)s: %(says)s") % {
                    "part": label(topic.aspect), "drink": drink.name, "says": says,
                }  # fmt: skip
    return RulesShown(
        known=_worded(words, (t for t in words if known.get(t))),
        to_teach=_worded(words, (t for t in words if known.get(t) is False)),
        open=_worded(words, (t for t in words if t not in known)),
    )


def _worded(words: dict[str, str], topics: Iterable[str]) -> list[str]:
    return sorted(words[topic] for topic in topics)
