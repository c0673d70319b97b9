"""What is odd about house rules though they can be published: rules that never get their turn,
rules that contradict each other, words that two things answer to. Nothing here is refused."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family, GarnishRule, HouseRules

CODES = frozenset(
    {
        "garnish_shadowed",
        "garnish_shadowed_together",
        "garnish_word_unstocked",
        "garnish_contradicts",
        "slang_is_a_name",
        "slang_twice",
    }
)
"""Rules are numbered from 1, in their order."""


def rules_notices(rules: HouseRules, pantry: Pantry) -> tuple[Reason, ...]:
    """Everything worth pointing out, garnish first."""
    return (*garnish_notices(rules.garnish, pantry), *slang_notices(rules.slang, pantry))


def garnish_notices(rules: tuple[GarnishRule, ...], pantry: Pantry) -> Iterator[Reason]:
    for number, rule in enumerate(rules, start=1):
        unstocked = tuple(_unstocked(rule, pantry))
        for word in unstocked:
            yield Reason.of("garnish_word_unstocked", rule=number, word=word)
        twin = _contradicted(rule, rules[: number - 1])
        if twin:
            yield Reason.of("garnish_contradicts", rule=number, earlier=twin)
        elif not any(all(w in unstocked for w in group) for group in rule.needs):
            yield from _shadows(number, rules, pantry)


def _unstocked(rule: GarnishRule, pantry: Pantry) -> Iterator[str]:
    """Words of the rule that nothing in the house answers to: a slug, kind or class."""
    for word in dict.fromkeys(w for group in rule.needs for w in group):
        if not any(item.answers_to(word) for item in pantry.values()):
            yield word


def _contradicted(rule: GarnishRule, earlier: tuple[GarnishRule, ...]) -> int | None:
    """The number of an earlier rule that speaks of the same drinks and puts something else on."""
    for number, other in enumerate(earlier, start=1):
        same = _needs(other) == _needs(rule) and other.only == rule.only
        if same and _families(other) & _families(rule) and other.garnish != rule.garnish:
            return number
    return None


def _needs(rule: GarnishRule) -> frozenset[frozenset[str]]:
    return frozenset(frozenset(group) for group in rule.needs)


def _families(rule: GarnishRule) -> frozenset[Family]:
    return frozenset(rule.families or Family)


def _shadows(number: int, rules: tuple[GarnishRule, ...], pantry: Pantry) -> Iterator[Reason]:
    """Nothing where some drink would be left for the rule; else by which rules it is caught."""
    rule, earlier = rules[number - 1], rules[: number - 1]
    if leaves_some(rule, earlier, pantry):
        return
    alone = (n for n, r in enumerate(earlier, start=1) if not leaves_some(rule, (r,), pantry))
    if by := next(alone, None):
        yield Reason.of("garnish_shadowed", rule=number, earlier=by)
    else:
        yield Reason.of("garnish_shadowed_together", rule=number)


def leaves_some(rule: GarnishRule, earlier: tuple[GarnishRule, ...], pantry: Pantry) -> bool:
    """Whether there is a set of the house's ingredients that the rule matches and no earlier one.

    Ingredients that answer to the same words of these rules are alike, so one of each sort is
    enough. The search is complete: whatever set the rule matches holds one part for each of its
    needs; on from there, more parts never undo an earlier rule without `only`, and undo one with
    `only` just by a part that it doesn't name. Where rules are so tangled that `MOST_MET` sets
    don't settle it, the rule counts as having its turn: silence is better than a false alarm.
    """
    sorts = _sorts((rule, *earlier), pantry)
    return any(_Search(rule, earlier, sorts, family).succeeds() for family in _families(rule))


Parts = frozenset[str]
MOST_MET = 5000


def _sorts(rules: Iterable[GarnishRule], pantry: Pantry) -> dict[str, Ingredient]:
    """One ingredient of each sort, by slug."""
    words = sorted({w for rule in rules for group in rule.needs for w in group})
    found: dict[tuple[str, ...], Ingredient] = {}
    for item in pantry.values():
        found.setdefault(tuple(w for w in words if item.answers_to(w)), item)
    return {item.slug: item for item in found.values()}


@dataclass
class _Search:
    rule: GarnishRule
    earlier: tuple[GarnishRule, ...]
    sorts: Mapping[str, Ingredient]
    family: Family
    met: set[Parts] = field(default_factory=set)

    def succeeds(self) -> bool:
        return any(self._grows(parts) for parts in self._beginnings())

    def _beginnings(self) -> Iterator[Parts]:
        """Every way to have just one part for each need; any one part where nothing is needed."""
        found: set[Parts] = (
            {frozenset()} if self.rule.needs else {frozenset({s}) for s in self.sorts}
        )
        for group in self.rule.needs:
            fits = [s for s, item in self.sorts.items() if any(item.answers_to(w) for w in group)]
            found = {parts | {slug} for parts in found for slug in fits}
        yield from found

    def _grows(self, parts: Parts) -> bool:
        if parts in self.met:
            return False
        self.met.add(parts)
        if len(self.met) > MOST_MET:
            return True
        if not self._matches(self.rule, parts):
            return False
        catching = [r for r in self.earlier if self._matches(r, parts)]
        if not all(r.only for r in catching):
            return False
        return not catching or any(self._grows(parts | {s}) for s in self._foreign(catching[0]))

    def _foreign(self, rule: GarnishRule) -> list[str]:
        return [slug for slug in self.sorts if not self._named(rule, slug)]

    def _matches(self, rule: GarnishRule, parts: Parts) -> bool:
        return rule.matches(tuple(self.sorts[s] for s in sorted(parts)), self.family)

    def _named(self, rule: GarnishRule, slug: str) -> bool:
        return any(self.sorts[slug].answers_to(w) for group in rule.needs for w in group)


def slang_notices(slang: Mapping[str, str], pantry: Pantry) -> Iterator[Reason]:
    """Words that are the name of another ingredient too, and one word that is written twice."""
    owners: dict[str, str] = {}
    for item in pantry.values():
        for name in (item.name, *item.aliases):
            owners.setdefault(fold(name), item.slug)
    first: dict[str, tuple[str, str]] = {}
    for word, slug in slang.items():
        owner = owners.get(fold(word), slug)
        if owner != slug:
            yield Reason.of("slang_is_a_name", word=word, ingredient=slug, other=owner)
        said, before = first.setdefault(fold(word), (word, slug))
        if said != word:
            yield Reason.of("slang_twice", word=word, ingredient=slug, other=before)
