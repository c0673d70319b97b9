"""A call with each of the house's words in it, as it is read under these rules: what a word does is
seen, not believed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from recipes.grammar import calls
from recipes.grammar.calls.over_the_bar import Bar
from recipes.grammar.calls.stock import BASE
from recipes.grammar.rules import HouseRules, Serving
from recipes.grammar.spec import Method
from recipes.hearing import book_of
from recipes.menu import Menu
from recipes.wording import label
from recipes.words_hearing import ask_words


@dataclass(frozen=True)
class Examples:
    """Calls under these rules; empty where the house has nothing to make one of."""

    menu: Menu
    bar: Bar

    @classmethod
    def under(cls, rules: HouseRules, menu: Menu) -> Examples:
        ruled = replace(menu, rules=rules)
        return cls(ruled, Bar(book_of(ruled)))

    def of_slang(self, word: str, slug: str) -> str:
        """With a base where it is a mixer, with a mixer where it is a base, else alone."""
        pairs = self.bar.pairs.values()
        stock = self.bar.book.stock
        if stock.roles.get(slug) == BASE:
            mixers = [m for b, m in pairs if b == slug]
            mixers += self.bar.usual[1] if slug in stock.short else []
            return self._read(f"{word} {self._name(mixers[0])}" if mixers else f"a {word}")
        bases = [b for b, m in pairs if m == slug] or self.bar.usual[0]
        return self._read(f"{self._name(bases[0])} {word}" if bases else word)

    def of_pattern(self, word: str) -> str:
        bases = self.bar.usual[0]
        return self._read(f"{self._name(bases[-1])} {word}" if bases else word)

    def of_serving(self, word: str, meant: Serving) -> str:
        drinks = self.bar.book.stock.drinks
        if meant is Serving.ANY_SPIRIT:
            return self._read(f"a {word}")
        if meant in (Serving.HALF, Serving.PINT):
            drawn = [s for s in self.bar.sold if drinks[s].spec.method is Method.DRAUGHT]
            beer = drinks[drawn[0]].spec.mixers[0].ingredient if drawn else ""
            return self._read(f"a {word} of {self._name(beer)}") if beer else ""
        slug = next(iter(self.bar.pairs), "")
        return self._read(f"a {word} {drinks[slug].name.casefold()}") if slug else ""

    def _name(self, slug: str) -> str:
        return self.menu.names.get(slug, slug)

    def _read(self, call: str) -> str:
        heard = calls.read(call, self.bar.book)
        if not heard.drinks:
            return ""
        drinks = _(", ").join(drink.name for drink in heard.drinks)
        sizes = [label(c.what) for drink in heard.drinks for c in drink.changes if not c.item]
        said = _("“%(call)s” is read as: %(drinks)s") % {
            "call": call,
            "drinks": _(", ").join([drinks, *sizes]),
        }
        asks = [ask_words(question, self.menu) for question in heard.ask]
        return " ".join([f"{said}.", *asks[:1]])
