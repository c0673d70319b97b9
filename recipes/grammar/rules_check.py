"""What is odd about house rules though they can be published: rules that never get their turn,
rules that contradict each other, words that two things answer to. Nothing here is refused."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product

from recipes.grammar.course import fold
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family, GarnishRule, HouseRules

CODES = frozenset(
    {
        "garnish_shadowed",
        "garnish_shadowed_together",
        "garnish_word_unstocked",
        "garnish_contradicts",
        "garnish_of_no_drink",
        "slang_is_a_name",
        "slang_twice",
    }
)
"""Rules are numbered from 1, in their order."""


def rules_notices(rules: HouseRules, pantry: Pantry) -> tuple[Reason, ...]:
    """Everything worth pointing out, garnish first."""
    return (*garnish_notices(rules.garnish, pantry), *slang_notices(rules.slang, pantry))


def garnish_notices(rules: tuple[GarnishRule, ...], pantry: Pantry) -> Iterator[Reason]:
    shapes = _shapes(rules, pantry)
    for number, rule in enumerate(rules, start=1):
        for word in _unstocked(rule, pantry):
            yield Reason.of("garnish_word_unstocked", rule=number, word=word)
        twin = _contradicted(rule, rules[: number - 1])
        if twin:
            yield Reason.of("garnish_contradicts", rule=number, earlier=twin)
        elif all(shapes[number - 1].groups):
            yield from _shadows(number, shapes)


def idle_notices(
    rules: tuple[GarnishRule, ...], pantry: Pantry, specs: Iterable[HouseSpec]
) -> Iterator[Reason]:
    """Rules that none of these drinks answers to, whatever stands before them. A rule for one
    kind alone may wait for its first drink; what needs two things together is pointed out, and
    so is a thing in a family where it never comes."""
    drinks = [(tuple(pantry[p.ingredient] for p in s.parts), s.family) for s in specs]
    for number, rule in enumerate(rules, start=1):
        narrow = len(rule.needs) > 1 or (rule.needs and rule.families)
        if narrow and not any(rule.matches(parts, family) for parts, family in drinks):
            yield Reason.of("garnish_of_no_drink", rule=number)


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


Parts = frozenset[str]
MOST_MET = 2000


@dataclass(frozen=True)
class _Shape:
    """A rule by what answers to each of its needs; `named` is all of that, `stock` everything.

    Ingredients that answer to the same words of all rules are alike, so one of each sort stands
    for them.
    """

    groups: tuple[Parts, ...]
    named: Parts
    only: bool
    families: frozenset[Family]
    stock: Parts

    def matches(self, parts: Parts) -> bool:
        fits = all(not group.isdisjoint(parts) for group in self.groups)
        return fits and (not self.only or parts <= self.named)

    def catches(self, other: "_Shape") -> bool:
        """Whether it matches whatever the other does, as far as can be seen need by need."""
        return not self.only and all(any(o <= g for o in other.groups) for g in self.groups)


def _shapes(rules: Iterable[GarnishRule], pantry: Pantry) -> tuple[_Shape, ...]:
    rules = tuple(rules)
    words = sorted({w for rule in rules for group in rule.needs for w in group})
    sorts: dict[Parts, str] = {}
    for item in pantry.values():
        sorts.setdefault(frozenset(w for w in words if item.answers_to(w)), item.slug)
    stock = frozenset(sorts.values())

    def shape(rule: GarnishRule) -> _Shape:
        groups = tuple(
            frozenset(slug for said, slug in sorts.items() if not said.isdisjoint(group))
            for group in dict.fromkeys(rule.needs)
        )
        named = frozenset().union(*groups)
        return _Shape(groups, named, rule.only, _families(rule), stock)

    return tuple(shape(rule) for rule in rules)


def _shadows(number: int, shapes: tuple[_Shape, ...]) -> Iterator[Reason]:
    """Nothing where some drink would be left for the rule; else by which rules it is caught."""
    rule, earlier = shapes[number - 1], shapes[: number - 1]
    if _leaves(rule, earlier):
        return
    alone = (n for n, other in enumerate(earlier, start=1) if not _leaves(rule, (other,)))
    if by := next(alone, None):
        yield Reason.of("garnish_shadowed", rule=number, earlier=by)
    else:
        yield Reason.of("garnish_shadowed_together", rule=number)


def leaves_some(rule: GarnishRule, earlier: tuple[GarnishRule, ...], pantry: Pantry) -> bool:
    """Whether there is a set of the house's ingredients that the rule matches and no earlier one.

    The search is complete: whatever set the rule matches holds one part for each of its needs; on
    from there, more parts never undo an earlier rule without `only`, and undo one with `only` just
    by a part that it doesn't name. Where rules are so tangled that `MOST_MET` sets don't settle
    it, the rule counts as having its turn: silence is better than a false alarm.
    """
    shape, *others = _shapes((rule, *earlier), pantry)
    return _leaves(shape, tuple(others))


def _leaves(rule: _Shape, earlier: tuple[_Shape, ...]) -> bool:
    met: set[tuple[_Shape, ...]] = set()
    for family in sorted(rule.families):
        speaking = tuple(other for other in earlier if family in other.families)
        if speaking not in met and _Search(rule, speaking).succeeds():
            return True
        met.add(speaking)
    return False


@dataclass
class _Search:
    """For a set of parts in one family; `earlier` are the rules that speak of that family."""

    rule: _Shape
    earlier: tuple[_Shape, ...]
    met: set[Parts] = field(default_factory=set)

    def succeeds(self) -> bool:
        if any(other.catches(self.rule) for other in self.earlier):
            return False
        return any(self._grows(parts) for parts in self._beginnings())

    def _beginnings(self) -> Iterator[Parts]:
        """Every way to have just one part for each need; any one part where nothing is needed."""
        needs = self.rule.groups or (self.rule.stock,)
        yield from (frozenset(parts) for parts in product(*(sorted(group) for group in needs)))

    def _grows(self, parts: Parts) -> bool:
        if parts in self.met:
            return False
        self.met.add(parts)
        if len(self.met) > MOST_MET:
            return True
        if not self.rule.matches(parts):
            return False
        catching = [r for r in self.earlier if r.matches(parts)]
        if not all(r.only for r in catching):
            return False
        foreign = sorted(self.rule.stock - catching[0].named) if catching else ()
        return not catching or any(self._grows(parts | {slug}) for slug in foreign)


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
