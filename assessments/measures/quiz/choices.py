"""The choices of an item: the right one, and wrong ones from drinks that are really alike."""

from collections.abc import Callable, Collection, Iterable, Sequence
from random import Random

from assessments.measures.quiz import parts_of_it
from assessments.measures.quiz.alike import same_answer, same_name, same_whole
from assessments.measures.quiz.items import (
    CHOICES,
    FEWEST_CHOICES,
    BuildPart,
    Choice,
    ItemKind,
)
from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.drink import Drink
from recipes.grammar.lookalikes import nearest

NEAR = 5
"""Wrong choices are drawn from so many of the nearest distinct ones: near enough to be mixed up,
enough of them that two quizzes differ (our own choice, no source)."""

Same = Callable[[Content, Content], bool]


def whole_content(drink: Drink) -> dict[str, Content]:
    """All five aspects of a drink by name, ready for JSON."""
    return {aspect.value: content for aspect, content in drink.contents.items()}


def choice_of(drink: Drink, kind: ItemKind, aspect: Aspect | None) -> Choice:
    if kind is ItemKind.NAME_IT:
        return Choice({"name": drink.name}, drink.slug)
    if kind is ItemKind.WHOLE:
        return Choice(whole_content(drink), drink.slug)
    if aspect is None:
        raise ValueError("an aspect item needs its aspect")
    return Choice(drink.contents[aspect], drink.slug)


def neighbours(
    drink: Drink, pool: Sequence[Drink], modules: Collection[str] = ()
) -> tuple[Drink, ...]:
    """All other drinks that a wrong choice may come from: first the nearest look-alike of all, then
    look-alikes of `modules` (of its own where none are given), look-alikes of others, and what is
    like it in nothing only after them, each nearest first. A beer is no answer among cocktails.

    Left out are drinks that are no wrong answer: another name for this build, in words if not in
    every stored digit, and another build that a guest calls by the same name.
    """
    mine, asked_of = whole_content(drink), modules or {drink.module}
    found = [
        other
        for other in nearest(drink, pool, len(pool))
        if not same_name(other, drink) and not same_whole(whole_content(other), mine)
    ]
    nearest_like = next((o for o in found if is_like(o, drink)), None)
    found.sort(
        key=lambda o: (o is not nearest_like, not is_like(o, drink), o.module not in asked_of)
    )
    return tuple(found)


def is_like(one: Drink, other: Drink) -> bool:
    """Whether two drinks could be taken for each other at all: by what goes in, by the glass, or
    by the kind of build."""
    mine, theirs = one.spec, other.spec
    if mine.family is theirs.family or mine.glass == theirs.glass:
        return True
    return not {p.ingredient for p in mine.parts}.isdisjoint(p.ingredient for p in theirs.parts)


def wrong_choices(
    drink: Drink, kind: ItemKind, aspect: Aspect | None, others: Sequence[Drink]
) -> tuple[Choice, ...]:
    """Wrong choices from the drink's neighbours, nearest first, `NEAR` of them at most.

    Each differs from the right one and from each other in what it says.
    """
    right = choice_of(drink, kind, aspect)
    candidates = (choice_of(other, kind, aspect) for other in others)
    return _distinct(right, candidates, _sameness(kind, aspect))


def _sameness(kind: ItemKind, aspect: Aspect | None) -> Same:
    if kind is ItemKind.WHOLE:
        return same_whole
    if kind is ItemKind.NAME_IT:
        return lambda one, other: one["name"].casefold() == other["name"].casefold()
    if aspect is None:
        raise ValueError("an aspect item needs its aspect")
    return lambda one, other: same_answer(aspect, one, other)


def _distinct(right: Choice, candidates: Iterable[Choice], same: Same) -> tuple[Choice, ...]:
    kept: list[Choice] = []
    for choice in candidates:
        if not any(same(choice.content, k.content) for k in (right, *kept)):
            kept.append(choice)
        if len(kept) == NEAR:
            break
    return tuple(kept)


def can_ask(
    drink: Drink,
    kind: ItemKind,
    aspect: Aspect | None,
    others: Sequence[Drink],
) -> bool:
    """Whether the item makes sense for this drink and has wrong choices enough. What to ask back is
    another matter: that hangs on what the other items ask (`asking_back.asked_about`)."""
    match kind:
        case ItemKind.SEVERAL:
            return parts_of_it.can_ask_several(drink, others)
        case ItemKind.ORDER:
            return parts_of_it.can_ask_order(drink)
        case ItemKind.AMOUNT:
            return bool(parts_of_it.amounts_asked(drink))
        case ItemKind.ASK_BACK:
            return False
        case ItemKind.BUILD:
            return len(aspects_asked(drink, others)) >= FEWEST_PARTS
    if aspect is Aspect.MIXERS and not drink.spec.mixers:
        return False  # "what goes on top?" has no answer where nothing does
    if aspect is Aspect.POURS and not drink.contents[Aspect.POURS]["poured"]:
        return False
    return len(wrong_choices(drink, kind, aspect, others)) >= FEWEST_CHOICES - 1


FEWEST_PARTS = 3
"""Of fewer choices a build can't be made (our own number, no source)."""


def aspects_asked(drink: Drink, others: Sequence[Drink]) -> list[Aspect]:
    """The aspects that a build is chosen from: those that can be asked by themselves."""
    return [a for a in Aspect if can_ask(drink, ItemKind.ASPECT, a, others)]


def build_parts(drink: Drink, others: Sequence[Drink], random: Random) -> tuple[BuildPart, ...]:
    found = []
    for aspect in aspects_asked(drink, others):
        wrong = wrong_choices(drink, ItemKind.ASPECT, aspect, others)
        right = choice_of(drink, ItemKind.ASPECT, aspect)
        choices, number = shuffled(right, wrong, random)
        topics = tuple(t.fingerprint for t in drink.topics_of(aspect))
        found.append(BuildPart(aspect, choices, number, topics))
    return tuple(found)


def shuffled(
    right: Choice, wrong: Sequence[Choice], random: Random
) -> tuple[tuple[Choice, ...], int]:
    """Up to four choices in random order and the index of the right one. The nearest wrong one,
    first in `wrong`, is always among them: it is what the drink is mixed up with."""
    others = wrong[1:]
    picked = random.sample(others, min(CHOICES - 2, len(others)))
    choices = [right, *wrong[:1], *picked]
    random.shuffle(choices)
    return tuple(choices), choices.index(right)
