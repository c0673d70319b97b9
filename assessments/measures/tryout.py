"""A try-out: an experienced hire shows in 25 minutes what need not be taught.

One question after the other, each chosen by what the answers so far leave open: first the drinks
that everybody must know, then the others, each time one of those that leave most open, with what
sells and what shows rules of the house before the rest. It ends when its time is up or nothing is
left open; which of several drinks that leave about as much open comes next is chance's. The first
ones come as calls (`tryout_calls`), then quiz items, then builds worth watching are proposed.
Credit is given topic by topic and never guessed: a rule counts as known where an answer showed it.
How much a pour is here no build shows, so it is asked by itself once for each kind of pour.
Safety is no part of it: that module everybody takes in full, whoever they are.
"""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from assessments.measures.proving import exercises, propose
from assessments.measures.quiz.parts_of_it import SizeAsked
from recipes.grammar.aspects import Aspect, Topic
from recipes.grammar.drink import Drink

MINUTES = 25
RULE, ANY = 2.0, 0.1
"""What a rule of the house and any drink's own part weigh beside its share of what sells best (our
own numbers, no source)."""

ABOUT = 0.2
"""Drinks that leave open as much as another but for this part are as good to ask about; else
everybody's try-out would be the same one (our own number, no source)."""

ENOUGH_SEEN, GIVEN_UP = 4, 0.34
"""Where of so many drinks of a module at most this share was all right, the rest of it is to be
taught anyway, and minutes are better spent elsewhere (our own numbers, no source)."""

Known = Mapping[str, bool]
"""What the answers showed of each topic, by fingerprint; the last answer counts."""


def next_drink(
    drinks: Sequence[Drink], known: Known, asked: Collection[str], random: Random
) -> Drink | None:
    """The drink to ask about now; None where nothing is left to learn by asking."""
    lost = given_up(drinks, known, asked)
    users, most = _users(drinks), max((d.share for d in drinks), default=0.0)
    open_ = [d for d in drinks if d.slug not in asked and (d.must_know or d.module not in lost)]
    worth = {d.slug: _worth(d, known, users, most) for d in open_}
    telling = [d for d in open_ if worth[d.slug] > 0]
    first = [d for d in telling if d.must_know] or telling
    enough = max((worth[d.slug] for d in first), default=0.0) * (1 - ABOUT)
    good = [d for d in first if worth[d.slug] >= enough]
    return random.choice(sorted(good, key=lambda d: d.slug)) if good else None


def _worth(drink: Drink, known: Known, users: Mapping[str, int], most: float) -> float:
    """What an answer on this drink could still show; `most` is the share of what sells best."""
    own = ANY + (drink.share / most if most else 0.0)
    return sum(
        RULE + users[t.fingerprint] / max(1, len(users)) if t.rule else own
        for t in _built(drink)
        if t.fingerprint not in known
    )


def open_aspects(drink: Drink, known: Known) -> tuple[Aspect, ...]:
    """In which aspects no answer showed anything yet of one topic or more."""
    still = {t.aspect for t in _built(drink) if t.fingerprint not in known}
    return tuple(a for a in Aspect if a in still)


def _users(drinks: Iterable[Drink]) -> dict[str, int]:
    """How many drinks each rule is needed for."""
    found: dict[str, int] = {}
    for drink in drinks:
        for topic in drink.topics:
            if topic.rule:
                found[topic.fingerprint] = found.get(topic.fingerprint, 0) + 1
    return found


def given_up(drinks: Sequence[Drink], known: Known, asked: Collection[str]) -> frozenset[str]:
    """Modules of which enough was seen to know that they are to be taught."""
    lost = set()
    for module in {d.module for d in drinks}:
        seen = [d for d in drinks if d.module == module and d.slug in asked]
        right = sum(_built_right(d, known) for d in seen)
        if len(seen) >= ENOUGH_SEEN and right <= GIVEN_UP * len(seen):
            lost.add(module)
    return frozenset(lost)


def knows(drink: Drink, known: Known) -> bool:
    """Whether every topic of the drink was shown right."""
    return all(known.get(t.fingerprint) for t in drink.topics)


def _built_right(drink: Drink, known: Known) -> bool:
    """The same but for how much its pours are."""
    return all(known.get(t.fingerprint) for t in _built(drink))


def _built(drink: Drink) -> list[Topic]:
    """What a build shows: how much a pour is, is asked by itself."""
    return [t for t in drink.topics if not t.is_pour_size]


def _pours_wrong(drink: Drink, known: Known) -> bool:
    return any(known.get(t.fingerprint) is False for t in drink.topics if t.is_pour_size)


def next_pour(
    drinks: Sequence[Drink], known: Known, sizes_of: Callable[[Drink], Sequence[SizeAsked]]
) -> tuple[Drink, SizeAsked] | None:
    """A drink, and which of its pours, to ask the size of a house pour with: `sizes_of` says which
    tell one. One kind alone in its drink is asked first; a kind that stands in mixed drinks only is
    asked of one of these. None where each was asked, or no drink tells it."""
    order = sorted(drinks, key=lambda d: (not d.must_know, -d.share, d.slug))
    for drink in sorted(order, key=lambda d: sum(t.is_pour_size for t in d.topics) != 1):
        for size in sizes_of(drink):
            if size.topic not in known:
                return drink, size
    return None


def shown_modules(drinks: Iterable[Drink], known: Known, pass_mark: int) -> frozenset[str]:
    """Modules that need not be read first: so many percent of their must-knows, or of all their
    drinks where none is one, were all right. A pour's size that wasn't asked is left out, as cards
    tell it; one that was wrong is taught with all that is poured so."""
    drinks = list(drinks)
    musts = {d.module for d in drinks if d.must_know}
    right: dict[str, list[bool]] = {}
    for drink in drinks:
        if drink.must_know or drink.module not in musts:
            right.setdefault(drink.module, []).append(
                _built_right(drink, known) and not _pours_wrong(drink, known)
            )
    return frozenset(m for m, came in right.items() if 100 * sum(came) >= pass_mark * len(came))


@dataclass(frozen=True)
class Credit:
    """What need not be taught, what must be and in which aspects, and what nobody knows yet;
    slugs, must-knows first. `watch` are the builds worth watching: the fewest that exercise every
    rule and kind of work of the must-knows that were right in words."""

    known: tuple[str, ...]
    to_teach: tuple[tuple[str, tuple[Aspect, ...]], ...]
    open: tuple[str, ...]
    rules_known: int
    rules: int
    watch: tuple[str, ...]


def credit(drinks: Sequence[Drink], known: Known) -> Credit:
    order = sorted(drinks, key=lambda d: (not d.must_know, -d.share, d.slug))
    wrong = [(d.slug, found) for d in order if (found := wrong_aspects(d, known))]
    right = [d for d in order if knows(d, known)]
    taught = {slug for slug, _ in wrong} | {d.slug for d in right}
    rules = {t.fingerprint for d in drinks for t in d.topics if t.rule}
    proposal = propose({d.slug: exercises(d) for d in right if d.must_know}, ())
    return Credit(
        known=tuple(d.slug for d in right),
        to_teach=tuple(wrong),
        open=tuple(d.slug for d in order if d.slug not in taught),
        rules_known=sum(bool(known.get(r)) for r in rules),
        rules=len(rules),
        watch=tuple(pick.slug for pick in proposal.picks),
    )


def wrong_aspects(drink: Drink, known: Known) -> tuple[Aspect, ...]:
    """In which aspects the drink was shown wrong."""
    wrong = {t.aspect for t in drink.topics if known.get(t.fingerprint) is False}
    return tuple(a for a in Aspect if a in wrong)
