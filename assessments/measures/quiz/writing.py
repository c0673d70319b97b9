"""Writing a quiz: the blueprint says how many of what, the seed says about which drinks."""

from collections import Counter
from collections.abc import Iterable, Sequence
from random import Random

from assessments.measures.quiz.blueprint import (
    Askable,
    Line,
    QuizPlan,
    Slot,
    blueprint,
    is_critical,
)
from assessments.measures.quiz.choices import (
    can_ask,
    choice_of,
    neighbours,
    shuffled,
    whole_content,
    wrong_choices,
)
from assessments.measures.quiz.items import Choice, ItemAsked, ItemKind, Scenario
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
    "ask_scenario": ("question",),
    "why_scenario": ("why",),
}

WHOLE: Line = (ItemKind.WHOLE, None)

Near = dict[str, tuple[Drink, ...]]


def generate(
    *,
    plan: QuizPlan,
    drinks: Sequence[Drink],
    pool: Sequence[Drink],
    scenarios: Sequence[Scenario],
    seed: int,
) -> tuple[ItemAsked, ...]:
    """A quiz on a module's `drinks`, wrong choices from `pool` (all drinks of the menu).

    The same arguments give the same quiz; another seed gives another one with as many items of
    each kind, aspect and criticality. Items for which no three distinct choices can be found are
    left out, so that a tiny menu gives a shorter quiz.
    """
    random = Random(seed)  # noqa: S311 - a quiz needs to be repeatable, not secret
    drinks = sorted(drinks, key=lambda d: d.slug)
    near: Near = {d.slug: neighbours(d, pool) for d in drinks}
    asked_about = _pick_scenarios(plan, scenarios, random)
    askable = _askable(plan, drinks, near)
    slots = blueprint(plan.length - plan.scenarios, plan.mix, askable)
    items = [_scenario_item(s, random) for s in asked_about]
    items += [
        _drink_item(drink, slot, near[drink.slug], random)
        for slot, drink in _fill(slots, askable, random)
    ]
    random.shuffle(items)
    return tuple(items)


def _askable(plan: QuizPlan, drinks: Sequence[Drink], near: Near) -> Askable:
    lines = dict.fromkeys((WHOLE, *plan.mix))
    return {
        (kind, aspect): [d for d in drinks if can_ask(d, kind, aspect, near[d.slug])]
        for kind, aspect in lines
    }


def _fill(slots: Counter[Slot], askable: Askable, random: Random) -> Iterable[tuple[Slot, Drink]]:
    """Drinks for the places: none twice in a slot, those asked about least so far first."""
    times: Counter[str] = Counter()
    for slot, count in slots.items():
        candidates = [d for d in askable[slot.kind, slot.aspect] if _fits(d, slot)]
        random.shuffle(candidates)
        candidates.sort(key=lambda d: (times[d.slug], not d.must_know))
        for drink in candidates[:count]:
            times[drink.slug] += 1
            yield slot, drink


def _fits(drink: Drink, slot: Slot) -> bool:
    if is_critical(drink) is not slot.critical:
        return False
    return slot.kind is not ItemKind.WHOLE or drink.must_know is slot.must_know


def _pick_scenarios(
    plan: QuizPlan, scenarios: Sequence[Scenario], random: Random
) -> list[Scenario]:
    """Every critical scenario, then others by chance up to the plan's number."""
    ordered = sorted(scenarios, key=lambda s: s.slug)
    critical = [s for s in ordered if s.critical]
    others = [s for s in ordered if not s.critical]
    left = min(len(others), max(0, plan.scenarios - len(critical)))
    return critical + random.sample(others, left)


def _scenario_item(scenario: Scenario, random: Random) -> ItemAsked:
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


def _drink_item(drink: Drink, slot: Slot, others: Sequence[Drink], random: Random) -> ItemAsked:
    wrong = wrong_choices(drink, slot.kind, slot.aspect, others)
    choices, right = shuffled(choice_of(drink, slot.kind, slot.aspect), wrong, random)
    topics = drink.topics_of(slot.aspect) if slot.aspect else drink.topics
    return ItemAsked(
        kind=slot.kind,
        aspect=slot.aspect,
        recipe=drink.slug,
        scenario=None,
        prompt=_prompt(drink, slot),
        choices=choices,
        right=right,
        critical=slot.critical,
        topics=tuple(t.fingerprint for t in topics),
        fingerprints={a.value: f for a, f in drink.fingerprints.items()},
        shown=whole_content(drink) if slot.kind is ItemKind.NAME_IT else None,
    )


def _prompt(drink: Drink, slot: Slot) -> Reason:
    name = drink.name
    if slot.kind is ItemKind.NAME_IT:
        return Reason.of("ask_name_it")
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
