"""Writing one item: on a drink, a situation or an identity card."""

import datetime as dt
from collections.abc import Mapping, Sequence
from random import Random
from typing import Any

from assessments.measures.otherwise import Marks, marks_of
from assessments.measures.quiz import asking_back, cards, parts_of_it
from assessments.measures.quiz.blueprint import Slot
from assessments.measures.quiz.choices import (
    build_parts,
    choice_of,
    shuffled,
    whole_content,
    wrong_choices,
)
from assessments.measures.quiz.guests import Call, Guests, Heard
from assessments.measures.quiz.items import (
    AS_VOLUME,
    Choice,
    ItemAsked,
    ItemKind,
    Scenario,
    sizes_unshown,
)
from assessments.measures.quiz.parts_of_it import SizeAsked
from recipes.grammar.aspects import Aspect, fingerprint
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "ask_glass": ("drink",),
    "ask_pours": ("drink",),
    "ask_mixers": ("drink",),
    "ask_finish": ("drink",),
    "ask_method": ("drink",),
    "ask_whole": ("drink",),
    "ask_name_it": (),
    "ask_several": ("drink",),
    "ask_order": ("drink",),
    "ask_amount": ("drink", "ingredient"),
    "ask_build": ("drink",),
    "call_plain": ("drink",),
    "call_double": ("drink",),
    "call_double_short": ("drink",),
    "call_double_tall": ("drink",),
    "call_by_word": ("said",),
    "ask_card": ("age",),
    "why_card_serve": (),
    "why_card_too_young": (),
    "why_card_expired": (),
    "why_card_not_theirs": (),
    "ask_scenario": ("question",),
    "why_scenario": ("why",),
}


def scenario_item(scenario: Scenario, random: Random) -> ItemAsked:
    order = list(range(len(scenario.choices)))
    random.shuffle(order)
    return ItemAsked(
        kind=ItemKind.SCENARIO,
        aspect=None,
        recipe=None,
        scenario=scenario.slug,
        prompt=Reason.of("ask_scenario", question=scenario.question),
        choices=tuple(Choice({"text": scenario.choices[i]}, "") for i in order),
        right=order.index(scenario.right),
        critical=scenario.critical,
        topics=(scenario_topic(scenario),),
        fingerprints={},
        why=Reason.of("why_scenario", why=scenario.why),
    )


def scenario_topic(scenario: Scenario) -> str:
    """The fingerprint of a scenario: its right answer to its question, whatever its slug."""
    return fingerprint(["scenario", scenario.question, scenario.choices[scenario.right]])


def card_item(number: int, legal_age: int, today: dt.date, random: Random) -> ItemAsked:
    """The card of this number in a quiz: which case it is doesn't hang on the seed.

    Every card must be right, also one that may be served: were only the others marked so, the mark
    would give the answer away.
    """
    case = list(cards.Case)[number % len(cards.Case)]
    card = cards.deal(case, legal_age, today, random)
    ruling = cards.rule(card, legal_age)
    rulings = list(cards.Ruling)
    random.shuffle(rulings)
    return ItemAsked(
        kind=ItemKind.CARD,
        aspect=None,
        recipe=None,
        scenario=f"card-{case.value.replace('_', '-')}",
        prompt=Reason.of("ask_card", age=legal_age),
        choices=tuple(Choice({"ruling": r.value}, "") for r in rulings),
        right=rulings.index(ruling),
        critical=True,
        topics=(fingerprint(["card", case.value, legal_age]),),
        fingerprints={},
        shown=cards.content_of(card, legal_age),
        why=_why_card(ruling),
    )


def _why_card(ruling: cards.Ruling) -> Reason:
    match ruling:
        case cards.Ruling.SERVE:
            return Reason.of("why_card_serve")
        case cards.Ruling.TOO_YOUNG:
            return Reason.of("why_card_too_young")
        case cards.Ruling.EXPIRED:
            return Reason.of("why_card_expired")
    return Reason.of("why_card_not_theirs")


def drink_item(
    drink: Drink,
    slot: Slot,
    others: Sequence[Drink],
    guests: Guests | None,
    random: Random,
    size: SizeAsked | None = None,
) -> ItemAsked:
    """An item of the slot's kind on a drink; raises ValueError where it needs what isn't given. An
    amount is asked of the pour whose `size` it is to tell, else of any."""
    said: dict[str, Any] = {
        "kind": slot.kind,
        "aspect": slot.aspect,
        "recipe": drink.slug,
        "scenario": None,
        "critical": slot.critical,
        "fingerprints": {a.value: f for a, f in drink.fingerprints.items()},
        "topics": _topics(drink, slot),
        "unshown": _unshown(drink, slot.kind, None),
        "prompt": _prompt(drink, slot),
        "choices": (),
        "right": 0,
    }
    return ItemAsked(**{**said, **_asked(drink, slot, others, guests, random, size)})


def _asked(
    drink: Drink,
    slot: Slot,
    others: Sequence[Drink],
    guests: Guests | None,
    random: Random,
    size: SizeAsked | None,
) -> Mapping[str, Any]:
    """What is special to the kind."""
    match slot.kind:
        case ItemKind.SEVERAL:
            choices, rights = parts_of_it.several(drink, others, random)
            return {"choices": choices, "rights": rights, "right": rights[0]}
        case ItemKind.ORDER:
            choices, rights = parts_of_it.order(drink, random)
            return {"choices": choices, "rights": rights, "right": rights[0]}
        case ItemKind.AMOUNT:
            item, choices, right = parts_of_it.amount(drink, random, size)
            prompt = Reason.of("ask_amount", drink=drink.name, ingredient=item)
            unshown = _unshown(drink, slot.kind, choices[right].content.get("as"))
            if size:
                told = [t.fingerprint for t in drink.topics if t.is_pour_size]
                unshown = tuple(topic for topic in told if topic != size.topic)
            return {"choices": choices, "right": right, "prompt": prompt, "unshown": unshown}
        case ItemKind.ASK_BACK if guests:
            heard, choices, right, topics = asking_back.ask_back(drink, others, guests, random)
            prompt = _call(heard, drink.name)
            return {"choices": choices, "right": right, "topics": topics, "prompt": prompt}
        case ItemKind.BUILD:
            return {"parts": build_parts(drink, others, random)}
    wrong = wrong_choices(drink, slot.kind, slot.aspect, others)
    choices, right = shuffled(choice_of(drink, slot.kind, slot.aspect), wrong, random)
    shown = whole_content(drink) if slot.kind is ItemKind.NAME_IT else None
    return {"choices": choices, "right": right, "shown": shown}


_SHOWS: dict[ItemKind, tuple[Aspect, ...]] = {
    ItemKind.SEVERAL: (Aspect.POURS, Aspect.MIXERS),
    ItemKind.AMOUNT: (Aspect.POURS,),
    ItemKind.ORDER: (Aspect.METHOD,),
}


def _topics(drink: Drink, slot: Slot) -> tuple[str, ...]:
    """What the answer is evidence for."""
    aspects = (slot.aspect,) if slot.aspect else _SHOWS.get(slot.kind, tuple(Aspect))
    return tuple(t.fingerprint for t in drink.topics if t.aspect in aspects)


def _unshown(drink: Drink, kind: ItemKind, said_as: str | None) -> tuple[str, ...]:
    sizes = [t.fingerprint for t in drink.topics if t.is_pour_size]
    return sizes_unshown(kind, sizes, said_as)


def marks_shown(drink: Drink, kind: str, aspect: str | None) -> Marks:
    """What a right answer of this kind shows of a drink by itself, as `otherwise` marks it. What a
    guest leaves open (ask back) is about the house's words, not about the build."""
    if kind == ItemKind.ASK_BACK:
        return frozenset()
    asked = ItemKind(kind)
    aspects = (Aspect(aspect),) if aspect else _SHOWS.get(asked, tuple(Aspect))
    said_as = AS_VOLUME if parts_of_it.is_sized(drink) else None
    return marks_of(drink, aspects) - set(_unshown(drink, asked, said_as))


def _call(heard: Heard, name: str) -> Reason:
    match heard.call:
        case Call.OPEN:
            article = "An" if heard.said[:1] in "aeio" else "A"
            return Reason.of("call_by_word", said=f"{article} {heard.said}")
        case Call.DOUBLE:
            return Reason.of("call_double", drink=name)
        case Call.DOUBLE_SHORT:
            return Reason.of("call_double_short", drink=name)
        case Call.DOUBLE_TALL:
            return Reason.of("call_double_tall", drink=name)
    return Reason.of("call_plain", drink=name)


def _prompt(drink: Drink, slot: Slot) -> Reason:
    name = drink.name
    match slot.kind:
        case ItemKind.NAME_IT:
            return Reason.of("ask_name_it")
        case ItemKind.SEVERAL:
            return Reason.of("ask_several", drink=name)
        case ItemKind.ORDER:
            return Reason.of("ask_order", drink=name)
        case ItemKind.BUILD:
            return Reason.of("ask_build", drink=name)
    match slot.aspect:
        case Aspect.GLASS:
            return Reason.of("ask_glass", drink=name)
        case Aspect.POURS:
            return Reason.of("ask_pours", drink=name)
        case Aspect.MIXERS:
            return Reason.of("ask_mixers", drink=name)
        case Aspect.FINISH:
            return Reason.of("ask_finish", drink=name)
        case Aspect.METHOD:
            return Reason.of("ask_method", drink=name)
    return Reason.of("ask_whole", drink=name)
