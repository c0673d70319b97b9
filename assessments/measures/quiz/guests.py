"""What guests may say of a drink, and what each of it leaves open: asked of the very reader that
hears calls, so that a quiz and the bar never differ.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum

from assessments.measures.call_answers import MayBe, may_be
from recipes.grammar.calls import About, Book, Reading, over_the_bar, read
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import Family
from recipes.grammar.spec import How
from recipes.grammar.units import Unit


class Call(StrEnum):
    """How the guest said it."""

    PLAIN = "plain"
    DOUBLE = "double"
    DOUBLE_SHORT = "double_short"
    DOUBLE_TALL = "double_tall"
    OPEN = "open"  # by a word that may be several things: a martini, a beer, a vodka


NAMED = {
    Call.PLAIN: "{}",
    Call.DOUBLE: "double {}",
    Call.DOUBLE_SHORT: "double short {}",
    Call.DOUBLE_TALL: "double tall {}",
}

Asks = tuple[str, ...]
"""What has to be asked, in order of the alphabet."""

KNOWN: frozenset[Asks] = frozenset(
    {
        (),
        ("garnish",),
        ("size",),
        ("garnish", "size"),
        ("base",),
        ("drink",),
        ("mixer",),
        ("style",),
    }
)
"""All that a question of a quiz puts as one choice."""

HELD_IN = ("shot", "pint", "half", "bottle of beer", "draught beer", "glass of wine")
"""Words that name what a drink comes in and not the drink (common practice, no source)."""


@dataclass(frozen=True)
class Heard:
    """A call in words, and what it leaves open. `offered` are the reader's choices: of the garnish
    where that is open, else of the one question that there is."""

    call: Call
    said: str
    open: Asks
    offered: tuple[str, ...] = ()


@dataclass
class Guests:
    """Those of one quiz: what they said once, by a word alone, none of them says again; `asked` is
    what had to be asked so far, how many times."""

    book: Book
    said: set[str] = field(default_factory=set)
    asked: Counter[Asks] = field(default_factory=Counter)
    _calls: dict[str, tuple[Heard, ...]] = field(default_factory=dict)
    _open: dict[str, Reading] = field(default_factory=dict)
    _answers: dict[str, list[MayBe]] = field(default_factory=dict)
    _meant: dict[str, set[str]] = field(default_factory=dict)

    def calls_for(self, drink: Drink) -> tuple[Heard, ...]:
        """Every call that may mean this drink and is understood."""
        if drink.slug not in self._calls:
            self._calls[drink.slug] = (*self._named(drink), *self._by_a_word(drink))
        return self._calls[drink.slug]

    def _named(self, drink: Drink) -> Iterator[Heard]:
        for call, words in NAMED.items():
            if call is Call.PLAIN or is_doubled(drink):
                heard = read(f"a {words.format(drink.name.lower())}", self.book)
                if _is_clear(heard) and heard.drinks[0].recipe == drink.slug:
                    yield from _known(call, words.format(drink.name), heard)

    def _by_a_word(self, drink: Drink) -> Iterator[Heard]:
        for word, heard in self._open_words().items():
            if self._may_be(drink, word, heard):
                yield from _known(Call.OPEN, word, heard)

    def _open_words(self) -> dict[str, Reading]:
        if not self._open:
            stock = self.book.stock
            spirits = [self.book.pantry[slug].name.lower() for slug in sorted(self.book.pantry)
                       if stock.of_class(slug, LiquorClass.SPIRIT)]  # fmt: skip
            words = dict.fromkeys([*over_the_bar.Bar(self.book).open_words, *HELD_IN, *spirits])
            found = {word: read(f"a {word}", self.book) for word in words}
            self._open = {word: heard for word, heard in found.items() if _is_clear(heard)}
        return self._open

    def _may_be(self, drink: Drink, word: str, heard: Reading) -> bool:
        """Whether somebody who says the word may want this drink."""
        base = self.book.stock.base_of(drink.slug) if drink.slug in self.book.stock.drinks else None
        for question in heard.ask:
            match question.about:
                case About.DRINK:
                    return drink.slug in question.choices
                case About.BASE:
                    return drink.slug in {m.drink.recipe for m in self.answers(word)}
                case About.STYLE:
                    return base is not None and base in self._meant_by(word) and _is_plain(drink)
        return False

    def answers(self, word: str) -> list[MayBe]:
        """What the word turns out to be, by every answer to what it leaves open."""
        if word not in self._answers:
            self._answers[word] = may_be(read(f"a {word}", self.book), 0, self.book)
        return self._answers[word]

    def _meant_by(self, word: str) -> set[str]:
        """The bottles that a word for a spirit may be poured from."""
        if not self._meant:
            for entry in self.book.entries:
                self._meant.setdefault(entry.phrase, set()).update(entry.items)
        return self._meant.get(word, set())


def _is_clear(heard: Reading) -> bool:
    return len(heard.drinks) == 1 and not (heard.read_as or heard.unplaced)


def _known(call: Call, said: str, heard: Reading) -> Iterator[Heard]:
    """Nothing where what is open is more than one question of a quiz puts."""
    asks = tuple(sorted({q.about.value for q in heard.ask}))
    sizes = [q.choices for q in heard.ask if q.about is About.SIZE]
    is_open = call is Call.OPEN
    if asks in KNOWN and bool(asks) >= is_open and all(s == ("short", "tall") for s in sizes):
        offered = {q.about.value: q.choices for q in heard.ask}
        yield Heard(call, said, asks, offered[asks[0]] if asks else ())


def is_doubled(drink: Drink) -> bool:
    """Tall drinks of one house pour; of others nobody can say how a double is built."""
    pours = [p for p in drink.spec.how(How.MEASURED) if p.unit is Unit.POUR]
    return drink.spec.family is Family.HIGHBALL and len(pours) == 1


def _is_plain(drink: Drink) -> bool:
    """A spirit by itself or with one mixer: what "a vodka" may turn out to be."""
    return len(drink.spec.parts) <= 2 and len(drink.spec.how(How.MEASURED)) == 1
