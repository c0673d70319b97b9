"""Words of quiz items: what each choice says, an invented card, and what a result counts."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.formats import date_format, time_format
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, pgettext_lazy

from assessments.measures.quiz import Choice, ItemAsked, ItemKind, cards
from assessments.measures.quiz.blueprint import Line
from assessments.showing import Naming
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls.reading import NONE
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import Ice
from recipes.words_amounts import measure_words

LETTERS = (
    pgettext_lazy("a choice", "A"),
    pgettext_lazy("a choice", "B"),
    pgettext_lazy("a choice", "C"),
    pgettext_lazy("a choice", "D"),
)
"""How choices are called where an item has four at most."""

Text = str | Promise

_KINDS: dict[str, Text] = {
    ItemKind.WHOLE: gettext_lazy("The whole build"),
    ItemKind.NAME_IT: gettext_lazy("Naming a build"),
    ItemKind.SCENARIO: gettext_lazy("What to do"),
    ItemKind.SEVERAL: gettext_lazy("What goes in"),
    ItemKind.ORDER: gettext_lazy("The order of steps"),
    ItemKind.AMOUNT: gettext_lazy("How much"),
    ItemKind.ASK_BACK: gettext_lazy("What to ask back"),
    ItemKind.BUILD: gettext_lazy("Choosing a build"),
    ItemKind.CARD: gettext_lazy("Identity cards"),
}

_STEPS: dict[str, Text] = {
    "glass": gettext_lazy("Take the glass: %(of)s"),
    "rim": gettext_lazy("Rim the glass with %(of)s"),
    "first_in": gettext_lazy("Put %(of)s in"),
    "muddle": gettext_lazy("Muddle %(of)s"),
    "ice": gettext_lazy("Ice: %(of)s"),
    "pour": gettext_lazy("Measure %(of)s"),
    "layer": gettext_lazy("Layer %(of)s"),
    "shake": gettext_lazy("Shake with ice"),
    "stir": gettext_lazy("Stir with ice"),
    "top": gettext_lazy("Top with %(of)s"),
    "float": gettext_lazy("Pour %(of)s on slowly"),
    "garnish": gettext_lazy("Garnish"),
}

_RULINGS: dict[str, Text] = {
    cards.Ruling.SERVE: gettext_lazy("Serve: old enough, in date, and it is their card"),
    cards.Ruling.TOO_YOUNG: gettext_lazy("No alcohol at this moment: too young"),
    cards.Ruling.EXPIRED: gettext_lazy("Ask for a card that is still valid"),
    cards.Ruling.NOT_THEIRS: gettext_lazy("Refuse quietly: the card isn't theirs"),
}

_FEATURES: dict[str, Text] = {
    "short_dark": gettext_lazy("short dark hair"),
    "long_fair": gettext_lazy("long fair hair"),
    "curly_red": gettext_lazy("curly red hair"),
    "shaved": gettext_lazy("a shaved head"),
    "straight": gettext_lazy("straight eyebrows"),
    "arched": gettext_lazy("arched eyebrows"),
    "close": gettext_lazy("ears close to the head"),
    "wide": gettext_lazy("ears that stand out"),
    "round": gettext_lazy("a round chin"),
    "pointed": gettext_lazy("a pointed chin"),
    "cleft": gettext_lazy("a chin with a cleft"),
}


def part_label(part: str) -> str:
    """What a result by aspect is counted under."""
    if part in set(Aspect):
        return recipe_wording.label(Aspect(part))
    return str(_KINDS[part])


def line_label(line: Line) -> str:
    """What a plan calls a kind of question."""
    kind, aspect = line
    return recipe_wording.label(aspect) if aspect else str(_KINDS[kind])


def named(prompt: Reason, names: Mapping[str, str]) -> Reason:
    """A prompt with its ingredient by name."""
    slug = prompt.values.get("ingredient")
    if slug is None:
        return prompt
    return Reason.of(
        prompt.code, **{**prompt.values, "ingredient": recipe_wording.name_of(str(slug), names)}
    )


def text(choice: Choice, item: ItemAsked, naming: Naming) -> str:
    """What a choice says; nothing for a whole build, which is shown in parts."""
    content = choice.content
    match item.kind:
        case ItemKind.NAME_IT:
            return str(content["name"])
        case ItemKind.SCENARIO:
            return str(content["text"])
        case ItemKind.SEVERAL:
            return _capital(recipe_wording.name_of(content["item"], naming.names))
        case ItemKind.ORDER:
            return _step(content["do"], content["of"], naming)
        case ItemKind.AMOUNT if content.get("as") == "volume":
            return measure_words(content["ml"], naming.country)
        case ItemKind.AMOUNT:
            return recipe_wording.amount_words(
                content["amount"], content["unit"], content["ml"], naming.country
            )
        case ItemKind.ASK_BACK:
            return _question(content["about"], content["of"], naming)
        case ItemKind.CARD:
            return str(_RULINGS[content["ruling"]])
        case ItemKind.ASPECT:
            return _(", ").join(naming.aspect(Aspect(item.part), content))
    return ""


def _step(do: str, of: list[str], naming: Naming) -> str:
    names = [_thing(do, slug, naming) for slug in of]
    return str(_STEPS[do]) % {"of": _(", ").join(names)}


def _thing(do: str, slug: str, naming: Naming) -> str:
    if do == "glass":
        return recipe_wording.name_of(slug, naming.glass_names)
    if do == "ice":
        return recipe_wording.label(Ice(slug))
    return recipe_wording.name_of(slug, naming.names)


_ASKS: dict[str, Text] = {
    "base": gettext_lazy("Which base: %(of)s?"),
    "mixer": gettext_lazy("Which mixer: %(of)s?"),
    "drink": gettext_lazy("Which one: %(of)s?"),
    "style": gettext_lazy("Neat, on the rocks, as a shot, or with a mixer?"),
    "size": gettext_lazy("Short or tall?"),
    "garnish": gettext_lazy("%(garnish)s?"),
    "garnish size": gettext_lazy("%(garnish)s? And short or tall?"),
}


def _question(about: list[str], of: list[str], naming: Naming) -> str:
    """What somebody would ask the guest; what to choose from only by examples."""
    if not about:
        return _("Nothing: build it as the house does")
    is_named = about == ["drink"]
    known = {NONE: _("nothing"), **naming.names}
    names = of if is_named else [recipe_wording.name_of(slug, known) for slug in of]
    offered = recipe_wording.either([*names, _("another")])
    garnish = _capital(recipe_wording.either(names))
    return str(_ASKS[" ".join(about)]) % {"garnish": garnish, "of": offered}


def _capital(said: str) -> str:
    return said[:1].upper() + said[1:]


@dataclass(frozen=True)
class CardShown:
    """An invented card in words, with the guest and the clock."""

    born: str
    valid_until: str
    photo: str
    guest: str
    now: str


def card(content: Mapping[str, Any]) -> CardShown:
    held, _age = cards.card_from(content)
    return CardShown(
        born=_day(held.born),
        valid_until=_day(held.valid_until),
        photo=_face(held.photo),
        guest=_face(held.guest),
        now=_("%(day)s, %(time)s")
        % {"day": _day(held.now.date()), "time": time_format(held.now.time())},
    )


def _day(day: dt.date) -> str:
    return date_format(day)


def _face(face: Mapping[str, str]) -> str:
    return _capital(_(", ").join(str(_FEATURES[face[f]]) for f in cards.FEATURES))
