"""What house rules name that the house does not have."""

from collections.abc import Iterator

from recipes.grammar.ingredients import Kind, LiquorClass, Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family, HouseRules

CODES = frozenset({"unknown_glass", "unknown_ingredient", "unknown_word"})


def rules_problems(rules: HouseRules, pantry: Pantry) -> Iterator[Reason]:
    """Default and tall glasses, garnishes, slang, patterns and the words of garnish rules."""
    glasses = [rules.default_glass.get(family, family.value) for family in Family]
    for glass in dict.fromkeys([*glasses, rules.doubles.tall_glass]):
        if glass not in rules.glasses:
            yield Reason.of("unknown_glass", glass=glass)
    named = [g.item for rule in rules.garnish for g in rule.garnish] + list(rules.slang.values())
    for pattern in rules.patterns.values():
        named += [*pattern.mixers, *(g.item for g in pattern.garnish or ())]
        named += [pattern.base] if pattern.base else []
    for slug in dict.fromkeys(named):
        if slug not in pantry:
            yield Reason.of("unknown_ingredient", ingredient=slug)
    known = {*pantry, *Kind, *LiquorClass}
    words = (w for rule in rules.garnish for group in rule.needs for w in group)
    for word in dict.fromkeys(words):
        if word not in known:
            yield Reason.of("unknown_word", word=word)
