"""Cards that are due, with why; of a drink that has changed also what it was and what it is now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from assessments.measures.shift_plan import CardDue, Why
from assessments.met import Earlier, Met, met_earlier
from assessments.wording import word
from barcourse.people.models import Membership
from recipes.grammar.aspects import Topic
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import LiquorClass
from recipes.menu import Menu, MenuDrink
from recipes.wording import aspect_words, label, share_words
from recipes.words_rule_topics import rule_says


@dataclass(frozen=True)
class DueCard:
    """`changes` are sentences, each with what it was before and what it is now."""

    item: MenuDrink
    why: str
    changes: list[str] = field(default_factory=list)


def due_cards(hire: Membership, menu: Menu, cards: Sequence[CardDue]) -> list[DueCard]:
    unmet = any(c.why is not Why.FADING for c in cards)
    known = _Known(met_earlier(hire, menu) if unmet else {})
    return [
        DueCard(item, word(card.reason), known.changes(item, menu))
        for card in cards
        for item in (menu.by_slug[card.drink],)
    ]


class _Known:
    """What somebody knows otherwise: drinks, and rules of the house, by which other drinks may be
    built that they have never met."""

    def __init__(self, met: Mapping[str, Met]) -> None:
        self._met = met
        self._topics = frozenset(topic for one in met.values() for topic in one.topics)
        self._rules = {
            topic.rule: one.last
            for one in met.values()
            if one.last
            for topic in one.last.drink.topics
            if topic.rule
        }

    def changes(self, item: MenuDrink, menu: Menu) -> list[str]:
        """What of today's build is in none of the builds that they have met, and was otherwise."""
        new = [t for t in item.drink.topics if t.fingerprint not in self._topics]
        now = Earlier(item.drink, menu)
        told = [said for topic in new for said in self._told(topic, item.drink.slug, now)]
        return list(dict.fromkeys(told))

    def _told(self, topic: Topic, slug: str, now: Earlier) -> Iterator[str]:
        own = self._met[slug].last if slug in self._met else None
        if topic.rule and (then := self._rules.get(topic.rule)):
            before, after = _rule(topic.rule, then), _rule(topic.rule, now)
        elif own:
            before, after = _own(topic, own), _own(topic, now)
        else:
            return
        if before != after:
            yield _("%(part)s: it was “%(before)s”, now it is “%(after)s”.") % {
                "part": label(topic.aspect), "before": before, "after": after,
            }  # fmt: skip


def _own(topic: Topic, of: Earlier) -> str:
    menu, content = of.menu, of.drink.contents[topic.aspect]
    return _(", ").join(
        aspect_words(topic.aspect, content, menu.names, menu.glass_names, menu.rules.country)
    )


def _rule(rule: str, of: Earlier) -> str:
    said, more = rule_says(rule, of.drink.spec, of.menu), _more(rule, of.drink.spec, of.menu)
    return _("%(rule)s, %(more)s") % {"rule": said, "more": more} if more else said


def _more(rule: str, spec: HouseSpec, menu: Menu) -> str:
    """What a rule settles beside what it says first."""
    kind, _colon, of = rule.partition(":")
    if kind == "ice":
        return _("%(share)s of the glass") % {"share": share_words(100 * spec.ice_share)}
    return label(menu.rules.pours[LiquorClass(of)].measured_by) if kind == "pour" else ""
