"""What to ask before building: what the guest left open and no house rule answers."""

from collections import Counter
from collections.abc import Iterator, Sequence
from random import Random

from assessments.measures.quiz.guests import Asks, Call, Guests, Heard
from assessments.measures.quiz.items import CHOICES, Choice
from recipes.grammar.aspects import Content, fingerprint
from recipes.grammar.calls import Book
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Ingredient
from recipes.grammar.rules import Doubles
from recipes.grammar.spec import How, When

NOTHING: Asks = ()

CLOSE: dict[str, frozenset[str]] = {
    "base": frozenset({"drink", "style"}),
    "drink": frozenset({"base", "mixer"}),
    "style": frozenset({"mixer", "drink"}),
    "mixer": frozenset({"style", "drink"}),
}
"""Where the first is right, a bartender may as well ask these: they are no wrong answers."""


def to_choose(drink: Drink) -> tuple[str, ...]:
    """Garnishes that the house asks the guest about."""
    return tuple(sorted(g.item for g in drink.spec.garnish if g.when is When.ASK))


def garnishes_offered(drink: Drink, others: Sequence[Drink]) -> tuple[str, ...]:
    """What the question about the garnish names: the drink's own, else the nearest drink's."""
    return next((found for d in (drink, *others) if (found := to_choose(d))), ())


def can_ask_back(drink: Drink, guests: Guests | None) -> bool:
    """Where one call leaves something open that another doesn't: else one answer would be right of
    all that is asked."""
    return guests is not None and len({heard.open for heard in guests.calls_for(drink)}) > 1


def asked_about(drinks: Sequence[Drink], guests: Guests | None) -> list[Drink]:
    """Of these drinks those that a quiz asks back about. A word that may be several things is said
    once: of drinks that nothing else leaves open, it has one and another to be asked by name, those
    that sell most."""
    if guests is None:
        return []
    kept, times = set(), Counter[str]()
    for drink in sorted(drinks, key=lambda d: (-round(d.share, 9), d.slug)):
        calls = guests.calls_for(drink)
        by_name = {heard.open for heard in calls if heard.call is not Call.OPEN}
        words = [heard.said for heard in calls if heard.call is Call.OPEN]
        word = next((w for w in words if times[w] < DRINKS_A_WORD), None)
        if len(by_name) > 1 or (can_ask_back(drink, guests) and word):
            kept.add(drink.slug)
            times[word or ""] += len(by_name) < 2
    return [drink for drink in drinks if drink.slug in kept]


DRINKS_A_WORD = 2


def ask_back(
    drink: Drink, others: Sequence[Drink], guests: Guests, random: Random
) -> tuple[Heard, tuple[Choice, ...], int, tuple[str, ...]]:
    """The call, what one could ask, which of it is right, and the topics that it shows."""
    calls = [h for h in guests.calls_for(drink) if h.said not in guests.said]
    said = _called(calls or guests.calls_for(drink), guests, random)
    asks = _choices(said, calls, drink, others, guests, random)
    contents = [_question(ask, said, drink, others, guests.book) for ask in asks]
    choices = tuple(Choice(content, "") for content in contents if content)
    return said, choices, asks.index(said.open), _topics(said, drink, guests.book.rules.doubles)


def _called(calls: Sequence[Heard], guests: Guests, random: Random) -> Heard:
    """What is open first, what this quiz has had least of; then one of the calls that leave it so:
    whoever always asks the same is right about half of the time at most."""
    kinds = sorted({heard.open for heard in calls})
    least = min(guests.asked[kind] for kind in kinds)
    wanted = random.choice([kind for kind in kinds if guests.asked[kind] == least])
    said = random.choice([heard for heard in calls if heard.open == wanted])
    guests.asked[wanted] += 1
    if said.call is Call.OPEN:
        guests.said.add(said.said)
    return said


def _choices(
    said: Heard,
    calls: Sequence[Heard],
    drink: Drink,
    others: Sequence[Drink],
    guests: Guests,
    random: Random,
) -> list[Asks]:
    """The right one, and what other calls for the drink leave open: the choices themselves don't
    say which call it is. Left out is what would have to be asked afterwards."""
    later = _later(said, guests)
    avoided = later.union(*(CLOSE.get(about, ()) for about in said.open))
    own = [h.open for h in calls]
    every = [("size",), ("garnish",), ("garnish", "size"), ("base",), ("style",), ("drink",),
             ("mixer",)]  # fmt: skip
    rest = random.sample(every, len(every))
    asks = [said.open]
    for ask in dict.fromkeys([NOTHING, *sorted(own), *rest]):
        is_fit = (
            not avoided & set(ask) and _question(ask, said, drink, others, guests.book) is not None
        )
        if len(asks) < CHOICES and ask not in asks and is_fit:
            asks.append(ask)
    random.shuffle(asks)
    return asks


def _later(said: Heard, guests: Guests) -> frozenset[str]:
    """What has to be asked once this is answered: no wrong answer, only one too early."""
    if said.call is not Call.OPEN:
        return frozenset()
    found = guests.answers(said.said)
    return frozenset(about.value for one in found for about in one.asks) - set(said.open)


def _question(
    ask: Asks, said: Heard, drink: Drink, others: Sequence[Drink], book: Book
) -> Content | None:
    """What a choice says: two examples of what to choose from, whether it is right or not; None
    where there are none."""
    if not ask or ask == ("size",) or ask == ("style",):
        return {"about": list(ask), "of": []}
    if "garnish" not in ask:
        of = _two(ask[0], said, drink, others, book)
    else:
        of = list(said.offered if "garnish" in said.open else garnishes_offered(drink, others))
    return {"about": list(ask), "of": of} if len(of) > 1 else None


def _two(about: str, said: Heard, drink: Drink, others: Sequence[Drink], book: Book) -> list[str]:
    """The drink's own and another one; drinks by name, what goes in by slug."""
    mine = _own(about, drink, book)
    if said.open == (about,):
        known = [_named(about, choice, book) for choice in said.offered]
        more = [x for x in (*mine, *known) if x in known]
    else:
        more = [*mine, *(x for other in others for x in _own(about, other, book))] if mine else []
        more = list(_apart(more, book))
    return list(dict.fromkeys(more))[:2]


def _own(about: str, drink: Drink, book: Book) -> list[str]:
    if about == "drink":
        return [drink.name]
    if about == "mixer":  # nobody tops a glass of beer up
        return [p.ingredient for p in drink.spec.mixers[:1] if drink.spec.how(How.MEASURED)]
    base = book.stock.base_of(drink.slug) if drink.slug in book.stock.drinks else None
    return [base] if base else []


def _named(about: str, choice: str, book: Book) -> str:
    return book.stock.drinks[choice].name if about == "drink" else choice


def _apart(found: Sequence[str], book: Book) -> Iterator[str]:
    """Of what goes in, only what is of the first one's class and of another kind: which of two rums
    is a question that somebody may well ask."""
    first = book.pantry.get(found[0]) if found else None
    for n, slug in enumerate(found):
        if n == 0 or _is_other(book.pantry.get(slug), first):
            yield slug


def _is_other(one: Ingredient | None, other: Ingredient | None) -> bool:
    if one is None or other is None:
        return True
    return one.kind != other.kind and one.liquor_class is other.liquor_class


def _topics(said: Heard, drink: Drink, doubles: Doubles) -> tuple[str, ...]:
    if said.call is Call.OPEN:
        return ()
    finish = [t.fingerprint for t in drink.topics if t.aspect.value == "finish"]
    return (*finish, *([] if said.call is Call.PLAIN else [doubles_topic(doubles)]))


def doubles_topic(doubles: Doubles) -> str:
    """What there is to know about a double, as a topic of its own."""
    return fingerprint(["rule", "doubles", doubles.model_dump(mode="json")])
