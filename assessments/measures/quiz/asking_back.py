"""What to ask before building: what the guest left open and no house rule answers."""

from collections.abc import Iterator, Sequence
from random import Random

from assessments.measures.call_answers import may_be
from assessments.measures.quiz.guests import Asks, Call, Guests, Heard
from assessments.measures.quiz.items import CHOICES, Choice
from recipes.grammar.aspects import Content, fingerprint
from recipes.grammar.calls import Book, read
from recipes.grammar.drink import Drink
from recipes.grammar.rules import Doubles
from recipes.grammar.spec import When

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


def ask_back(
    drink: Drink, others: Sequence[Drink], guests: Guests, random: Random
) -> tuple[Heard, tuple[Choice, ...], int, tuple[str, ...]]:
    """The call, what one could ask, which of it is right, and the topics that it shows."""
    calls = [h for h in guests.calls_for(drink) if h.said not in guests.said]
    said = _called(calls or guests.calls_for(drink), random)
    if said.call is Call.OPEN:
        guests.said.add(said.said)
    asks = _choices(said, calls, drink, others, guests.book, random)
    contents = [_question(ask, said, drink, others, guests.book) for ask in asks]
    choices = tuple(Choice(content, "") for content in contents if content)
    return said, choices, asks.index(said.open), _topics(said, drink, guests.book.rules.doubles)


def _called(calls: Sequence[Heard], random: Random) -> Heard:
    """What is open first, each as often as the others; then one of the calls that leave it so:
    whoever always asks the same is right about half of the time at most."""
    kinds = sorted({heard.open for heard in calls})
    wanted = random.choice(kinds)
    return random.choice([heard for heard in calls if heard.open == wanted])


def _choices(
    said: Heard,
    calls: Sequence[Heard],
    drink: Drink,
    others: Sequence[Drink],
    book: Book,
    random: Random,
) -> list[Asks]:
    """The right one, and what other calls for the drink leave open: the choices themselves don't
    say which call it is. Left out is what would have to be asked afterwards."""
    later = _later(said, book)
    avoided = later.union(*(CLOSE.get(about, ()) for about in said.open))
    own = [h.open for h in calls]
    every = [("size",), ("garnish",), ("garnish", "size"), ("base",), ("style",), ("drink",),
             ("mixer",)]  # fmt: skip
    rest = random.sample(every, len(every))
    asks = [said.open]
    for ask in dict.fromkeys([NOTHING, *sorted(own), *rest]):
        is_fit = not avoided & set(ask) and _question(ask, said, drink, others, book) is not None
        if len(asks) < CHOICES and ask not in asks and is_fit:
            asks.append(ask)
    random.shuffle(asks)
    return asks


def _later(said: Heard, book: Book) -> frozenset[str]:
    """What has to be asked once this is answered: no wrong answer, only one too early."""
    if said.call is not Call.OPEN:
        return frozenset()
    found = may_be(read(f"a {said.said}", book), 0, book)
    return frozenset(about.value for one in found for about in one.asks) - set(said.open)


def _question(
    ask: Asks, said: Heard, drink: Drink, others: Sequence[Drink], book: Book
) -> Content | None:
    """What a choice says: two examples of what to choose from, whether it is right or not; None
    where there are none."""
    if not ask or ask == ("size",) or ask == ("style",):
        return {"about": list(ask), "of": []}
    if "garnish" in ask:
        of = list(garnishes_offered(drink, others))
    else:
        of = _two(ask[0], said, drink, others, book)
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
    if about == "mixer":
        return [p.ingredient for p in drink.spec.mixers[:1]]
    base = book.stock.base_of(drink.slug) if drink.slug in book.stock.drinks else None
    return [base] if base else []


def _named(about: str, choice: str, book: Book) -> str:
    return book.stock.drinks[choice].name if about == "drink" else choice


def _apart(found: Sequence[str], book: Book) -> Iterator[str]:
    """Of what goes in, only what is of another kind than the first: which of two rums is a question
    that somebody may well ask."""
    for n, one in enumerate(found):
        if n == 0 or one not in book.pantry or book.pantry[one].kind != book.pantry[found[0]].kind:
            yield one


def _topics(said: Heard, drink: Drink, doubles: Doubles) -> tuple[str, ...]:
    if said.call is Call.OPEN:
        return ()
    finish = [t.fingerprint for t in drink.topics if t.aspect.value == "finish"]
    return (*finish, *([] if said.call is Call.PLAIN else [doubles_topic(doubles)]))


def doubles_topic(doubles: Doubles) -> str:
    """What there is to know about a double, as a topic of its own."""
    return fingerprint(["rule", "doubles", doubles.model_dump(mode="json")])
