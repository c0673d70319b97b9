"""Sizes and changes that suit a drink: no salt only where there is salt, no ice only where it
stands on ice and nothing else is done with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from recipes.grammar.calls.reading import What
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.rules import Family
from recipes.grammar.spec import How, Ice, Method, When
from recipes.grammar.units import Unit

TALL_BY_ITSELF = "us"
"""Where a tall one is a single in a bigger glass (trade usage of the United States)."""
CARRIED = frozenset({What.SHOT, What.PINT, What.NEAT, What.ROCKS, What.UP})
"""Changes that a drink's own name may carry: a shot of tequila, a pint of lager."""
_FRUIT = frozenset({Kind.FRUIT, Kind.HERB})


@dataclass(frozen=True)
class Suit:
    """`said` as a guest says it, `codes` as the reader tells it; `size` where it stands before the
    name, `often` beside the others that suit."""

    said: str
    codes: frozenset[str]
    often: float
    size: str = ""


def suits(book: Book, slug: str, usual_mixers: Sequence[str]) -> list[Suit]:
    spec = book.stock.drinks[slug].spec
    return [*_sizes(book, spec), *_ice(spec), *_finish(book, spec),
            *_splash(book, spec, usual_mixers)]  # fmt: skip


def _size(said: str, often: float, *whats: What) -> Suit:
    return Suit(said, frozenset(w.value for w in whats), often, size=said)


def _sizes(book: Book, spec: HouseSpec) -> Iterator[Suit]:
    rules = book.rules
    if is_one_pour_and_top(book, spec):
        if not rules.doubles.ask_short_or_tall:
            yield _size("double", 6, What.DOUBLE)
        elif rules.doubles.tall_glass in rules.glasses:
            yield _size("double", 1, What.DOUBLE)
            yield _size("double tall", 3, What.DOUBLE, What.TALL)
            yield _size("double short", 2, What.DOUBLE, What.SHORT)
            if rules.country == TALL_BY_ITSELF:
                yield _size("tall", 2, What.TALL)


def is_one_pour_and_top(book: Book, spec: HouseSpec) -> bool:
    """A highball in the narrow sense: only of these is a double spoken of without a word more."""
    poured = [p for p in spec.parts if p.how is not How.TOP]
    return (
        spec.method is Method.BUILD
        and spec.family is Family.HIGHBALL
        and len(poured) == 1
        and poured[0].how is How.MEASURED
        and poured[0].unit is Unit.POUR
        and book.stock.is_strong(poured[0].ingredient)
        and not book.stock.of_class(poured[0].ingredient, LiquorClass.WINE, LiquorClass.BEER)
    )


def _ice(spec: HouseSpec) -> Iterator[Suit]:
    plain = all(p.how in (How.MEASURED, How.TOP) for p in spec.parts)
    if spec.ice is Ice.FULL and spec.method is Method.BUILD and plain and spec.mixers:
        yield Suit("no ice", frozenset({What.NO_ICE.value}), 4)
        yield Suit("light ice", frozenset({What.LIGHT_ICE.value}), 2)


def _finish(book: Book, spec: HouseSpec) -> Iterator[Suit]:
    if spec.rim and spec.rim.item == "salt":
        yield Suit("no salt", frozenset({What.NO_RIM.value}), 5)
    on_it = [g.item for g in spec.garnish if g.when is When.ALWAYS]
    if len(on_it) == 1 and book.pantry[on_it[0]].kind in _FRUIT and spec.mixers:
        name = book.stock.cores[on_it[0]].replace("-", " ")
        yield Suit(f"extra {name}", frozenset({f"{What.EXTRA.value}:{on_it[0]}"}), 2)
        yield Suit("no garnish", frozenset({What.NO_GARNISH.value}), 2)
    by_request = [g.item for g in spec.garnish if g.when is When.ON_REQUEST]
    for item in by_request:
        name = book.stock.cores[item].replace("-", " ")
        yield Suit(f"with {name}", frozenset({f"{What.WITH.value}:{item}"}), 3)
    if spec.straw and spec.mixers:
        yield Suit("no straw", frozenset({What.NO_STRAW.value}), 1)


def _splash(book: Book, spec: HouseSpec, usual: Sequence[str]) -> Iterator[Suit]:
    """A little juice in what is topped with nothing but soda water."""
    if [p.ingredient for p in spec.mixers] != ["club-soda"] or len(spec.parts) != 2:
        return
    for slug in usual:
        if book.pantry[slug].kind is Kind.JUICE:
            said = f"splash of {book.pantry[slug].name.removesuffix(' juice')}"
            yield Suit(said, frozenset({f"{What.SPLASH.value}:{slug}"}), 1)
