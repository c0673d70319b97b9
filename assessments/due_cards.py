"""Cards that are due, with why; of what the hire knows otherwise what it was and what it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from assessments.measures.otherwise import Part
from assessments.measures.shift_plan import CardDue, changed
from assessments.met import Earlier, Known
from assessments.wording import word
from assessments.wording_changes import from_to
from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import LiquorClass
from recipes.menu import Menu, MenuDrink
from recipes.wording import aspect_words, label, share_words
from recipes.words_rule_topics import rule_says

FEW = 5
"""So many drinks of a rule are named, the others counted (our own number, no source)."""


@dataclass(frozen=True)
class RuleChange:
    """A house rule that somebody knows otherwise, said once: the first drinks of all on the menu
    that go by it, must-knows first, and how many `more` there are."""

    said: str
    drinks: list[str]
    more: int


@dataclass(frozen=True)
class DueCard:
    """`rules` and `changes` are sentences on house rules and on the drink's own parts, each with
    what it was and what it is now; `told` the aspects that they are about."""

    item: MenuDrink
    why: str
    rules: list[str] = field(default_factory=list)
    changes: list[str] = field(default_factory=list)
    told: tuple[Aspect, ...] = ()


def due_cards(menu: Menu, cards: Sequence[CardDue], known: Known) -> list[DueCard]:
    told = _Told(menu, known)
    return [
        DueCard(item, word(card.reason), told.rules(item), told.own(item), card.told)
        for card in cards
        for item in (menu.by_slug[card.drink],)
    ]


def changed_card(menu: Menu, item: MenuDrink, known: Known) -> DueCard | None:
    """The card of a drink, due or not, of which the hire knows something otherwise."""
    parts = known.otherwise.get(item.drink.slug, ())
    if not parts:
        return None
    told = _Told(menu, known)
    why = word(changed(item.drink.name, parts))
    aspects = tuple(part.aspect for part in parts)
    return DueCard(item, why, told.rules(item), told.own(item), aspects)


def rule_changes(menu: Menu, cards: Sequence[DueCard], known: Known) -> list[RuleChange]:
    """The rules that these cards are about, each once."""
    told = _Told(menu, known)
    return [told.change(said) for said in dict.fromkeys(s for card in cards for s in card.rules)]


class _Told:
    """Sentences on what somebody knows otherwise, drink by drink."""

    def __init__(self, menu: Menu, known: Known) -> None:
        self._menu, self._known = menu, known
        found = [
            (topic.rule, part)
            for slug, parts in known.otherwise.items()
            for part in parts
            for topic in menu.by_slug[slug].drink.topics_of(part.aspect)
            if topic.fingerprint in part.marks and topic.rule in _rules_of(part)
        ]
        # What was met last sits on top, on whichever drink that was.
        self._rules = dict(sorted(found, key=lambda pair: pair[1].until))

    def rules(self, item: MenuDrink) -> list[str]:
        """Of rules that somebody knows otherwise, be it from other drinks."""
        return [
            said
            for topic in item.drink.topics
            if topic.rule and (part := self._rules.get(topic.rule))
            if (said := self._rule(topic.rule, part, item))
        ]

    def own(self, item: MenuDrink) -> list[str]:
        parts = self._known.otherwise.get(item.drink.slug, ())
        return [said for part in parts for said in self._part(part, item)]

    def change(self, said: str) -> RuleChange:
        items = [item for item in self._menu.items if said in self.rules(item)]
        items.sort(key=lambda item: not item.recipe.must_know)
        names = [item.drink.name for item in items]
        return RuleChange(said, names[:FEW], len(names[FEW:]))

    def _rule(self, rule: str, part: Part, item: MenuDrink) -> str:
        was, now = self._known.was(part.was), Earlier(item.drink, self._menu)
        before, after = _rule_words(rule, was), _rule_words(rule, now)
        return from_to(part, before, after, is_rule=True) if before != after else ""

    def _part(self, part: Part, item: MenuDrink) -> Iterator[str]:
        """What is the drink's own, or was: what stays is left out."""
        by_rule = {t.fingerprint for t in item.drink.topics if t.rule in _rules_of(part)}
        if part.marks <= by_rule:
            return
        before = _lines(part.aspect, self._known.was(part.was))
        after = _lines(part.aspect, Earlier(item.drink, self._menu))
        gone = [line for line in before if line not in after]
        come = [line for line in after if line not in before]
        if gone or come:
            both = (gone, come) if gone and come else (before, after)
            yield from_to(part, *both, is_rule=False)


def _rules_of(part: Part) -> set[str]:
    """House rules by which its aspect was built then."""
    return {t.rule for t in part.was.topics_of(part.aspect) if t.rule}


def _lines(aspect: Aspect, of: Earlier) -> list[str]:
    menu, content = of.menu, of.drink.contents[aspect]
    return aspect_words(aspect, content, menu.names, menu.glass_names, menu.rules.country)


def _rule_words(rule: str, of: Earlier) -> list[str]:
    said, more = rule_says(rule, of.drink.spec, of.menu), _more(rule, of.drink.spec, of.menu)
    return [said, more] if more else [said]


def _more(rule: str, spec: HouseSpec, menu: Menu) -> str:
    """What a rule settles beside what it says first."""
    kind, _colon, of = rule.partition(":")
    if kind == "ice":
        return _("%(share)s of the glass") % {"share": share_words(100 * spec.ice_share)}
    return label(menu.rules.pours[LiquorClass(of)].measured_by) if kind == "pour" else ""
