"""The house rules that ship, which of them a country begins with, and fitting them to a house."""

from recipes.grammar.ingredients import Kind, LiquorClass, Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import GarnishRule, HouseRules, Pattern

PRESETS = (
    "us-classic",
    "us-free-pour",
    "great-britain",
    "ireland",
    "australia",
    "europe",
)
PRESET_OF = {
    "us": "us-classic",
    "gb": "great-britain",
    "ie": "ireland",
    "au": "australia",
    "eu": "europe",
}
"""Preset by country of the house. None of them claims to be the law of the place."""

CODES = frozenset({"garnish_left_out", "slang_left_out", "word_left_out", "glass_kept"})
"""What comes of fitting a preset to a house, each told and none refused."""


def preset_for(country: str) -> str:
    """Countries without a preset of their own begin with the classic one, and edit it."""
    return PRESET_OF.get(country, "us-classic")


def fitted(
    preset: HouseRules, now: HouseRules, pantry: Pantry
) -> tuple[HouseRules, tuple[Reason, ...]]:
    """A preset as this house can take it over, and what is otherwise than in the preset.

    Left out are garnish rules, patterns and words that name what the house doesn't stock; a rule
    that names one thing or another stays for the other. Kept are
    glasses that the preset doesn't know, for recipes that are poured in them, and the currency.
    Its country comes with it: amounts are told in its measures from then on. What the law asks
    goes by the house's own country all the same.
    """
    known = {*pantry, *Kind, *LiquorClass}
    fits = [_stocked(rule, pantry, known) for rule in preset.garnish]
    garnish = tuple(rule for rule in fits if rule)
    slang = {word: slug for word, slug in preset.slang.items() if slug in pantry}
    own = {key: glass for key, glass in now.glasses.items() if key not in preset.glasses}
    rules = preset.model_copy(
        update={
            "currency": now.currency,
            "garnish": garnish,
            "slang": slang,
            "patterns": {w: p for w, p in preset.patterns.items() if _made(p, pantry)},
            "glasses": {**preset.glasses, **own},
        }
    )
    told = [
        Reason.of("garnish_left_out", rule=n)
        for n, rule in enumerate(fits, start=1)
        if rule is None
    ]
    if len(slang) < len(preset.slang):
        told.append(Reason.of("slang_left_out", count=len(preset.slang) - len(slang)))
    told += [Reason.of("glass_kept", glass=key) for key in own]
    return rules, tuple(told)


def _stocked(rule: GarnishRule, pantry: Pantry, known: set[str]) -> GarnishRule | None:
    needs = tuple(tuple(w for w in group if w in known) for group in rule.needs)
    if not all(needs) or not all(g.item in pantry for g in rule.garnish):
        return None
    return rule if needs == rule.needs else rule.model_copy(update={"needs": needs})


def _made(pattern: Pattern, pantry: Pantry) -> bool:
    named = (*pattern.mixers, *(g.item for g in pattern.garnish or ()), pattern.base)
    return all(slug in pantry for slug in named if slug)
