"""How a book of words is made: names, slang and patterns, closed words, then what is left."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import count

from recipes.grammar.calls.entries import (
    ALIAS,
    KIND,
    NAME,
    PART,
    SLANG,
    Entry,
    Trie,
    goes_on,
    put,
    take_out,
)
from recipes.grammar.calls.lexing import cheapest_of
from recipes.grammar.calls.names import (
    Words,
    by_other_base,
    in_a_blender,
    joined,
    of_its_size,
    plain_words,
    variants,
)
from recipes.grammar.calls.stock import Stock, stock_of
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.trade import KIND_WORDS, OF_A_COUNTRY, TRADE, stocked
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import BEER_GLASS, POURED, SPOKEN, Sign, closed_words
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass, Pantry
from recipes.grammar.rules import Family, HouseRules


def vocabulary(
    rules: HouseRules,
    drinks: Iterable[Drink],
    pantry: Pantry,
    unsold: Iterable[tuple[str, str]] = (),
) -> Book:
    """The book of what is poured under these rules; the same arguments give the same book.
    `unsold`: what drinks off the menu are called, with their names."""
    stock = stock_of(rules, tuple(drinks), pantry)
    maker = _Maker(stock)
    maker.things()
    maker.drinks()
    maker.made_up()
    maker.closed()
    maker.off_the_menu(unsold)
    maker.leftovers()
    return maker.book()


class _Maker:
    """Puts phrases in, stronger meanings first; a weaker one never replaces a stronger one."""

    def __init__(self, stock: Stock) -> None:
        self.stock = stock
        self.trie: Trie = {}
        self.phrases: dict[Words, Entry] = {}
        self.keys = count(1)
        self.patterns = {**TRADE, **stock.rules.patterns}
        self.patterns = {
            word: stocked(p, stock.pantry)
            for word, p in self.patterns.items()
            if all(m in stock.pantry for m in p.mixers)
        }

    def entry(self, words: Words) -> Entry:
        place = put(self.trie, words)
        if not place:
            place.append(Entry(" ".join(words), key=next(self.keys)))
            self.phrases[words] = place[0]
        return place[0]

    def thing(self, words: Words, slugs: tuple[str, ...], by: int) -> None:
        if not words or not slugs:
            return
        entry = self.entry(words)
        if not entry.items:
            entry.items, entry.items_by = slugs, by
        elif entry.items_by == by:
            entry.items = tuple(dict.fromkeys((*entry.items, *slugs)))

    def drink(self, words: Words, slug: str, by: int) -> None:
        if not words:
            return
        entry = self.entry(words)
        if not entry.recipes:
            entry.recipes, entry.recipes_by = (slug,), by
        elif entry.recipes_by == by and slug not in entry.recipes:
            entry.recipes = (*entry.recipes, slug)

    def things(self) -> None:
        """Names, then other names, then the house's slang, then kinds."""
        pantry = self.stock.pantry
        for item in pantry.values():
            self.thing(words_of(item.name), (item.slug,), NAME)
        for item in pantry.values():
            for alias in item.aliases:
                self.thing(words_of(alias), (item.slug,), ALIAS)
        for word, slug in self.stock.rules.slang.items():
            if slug in pantry:
                self.thing(words_of(word), (slug,), SLANG)
        for word, kind in KIND_WORDS.items():
            of_kind = tuple(i.slug for i in pantry.values() if i.kind is kind and not i.bottle_of)
            self.thing((word,), of_kind, KIND)
            for slug in of_kind:  # "bourbon whiskey", "lager beer"
                self._of_its_kind(words_of(pantry[slug].name), word, slug)

    def _of_its_kind(self, name: Words, word: str, slug: str) -> None:
        whole = (*name, word)
        if word not in name and not self._is_thing(whole):
            self.thing(whole, (slug,), ALIAS)

    def drinks(self) -> None:
        """Names, then other names; each with and without its small words, then by the other names
        of its base, where these are nobody else's."""
        drinks = self.stock.drinks.values()
        for by, names in (
            (NAME, lambda d: (d.name,)),
            (ALIAS, lambda d: of_its_size(d, d.aliases)),
        ):
            spoken = [(d, tuple(in_a_blender(d, variants(n)))) for d in drinks for n in names(d)]
            for rank in range(5):
                for drink, forms in spoken:
                    if rank < len(forms):
                        self.drink(forms[rank], drink.slug, by)
        told = {words: e.recipes for words, e in self.phrases.items() if e.recipes}
        for words, slugs in told.items():
            for slug in slugs:
                base = self.stock.base_of(slug)
                others = self._calls_of(base) if base else ()
                for form in by_other_base(words, others):
                    if form not in told and not self._is_thing(form):
                        self.drink(form, slug, ALIAS)

    def _calls_of(self, slug: str) -> tuple[Words, ...]:
        """The words that mean just this ingredient."""
        return tuple(w for w, e in self.phrases.items() if e.items == (slug,) and e.items_by < KIND)

    def _is_thing(self, words: Words) -> bool:
        return words in self.phrases and bool(self.phrases[words].items)

    def made_up(self) -> None:
        """Patterns; slang for something that is a drink by itself; letters that stand for names."""
        for word in self.patterns:
            entry = self.entry(words_of(word))
            entry.pattern = word
        for word, slug in self.stock.rules.slang.items():
            if slug in self.stock.pantry:
                self._slang_drink(words_of(word), self.stock.pantry[slug])
        for said, meant in SPOKEN.items():
            known = self.phrases.get(tuple(meant.split()))
            words = tuple(said.split())
            if known is not None and words not in self.phrases:
                put(self.trie, words).append(known)
                self.phrases[words] = known

    def _slang_drink(self, words: Words, item: Ingredient) -> None:
        named = self.phrases.get(words_of(item.name))
        spoken = self.phrases.get(words)
        if named and named.recipes and spoken and not spoken.recipes and spoken.items_by == SLANG:
            spoken.recipes, spoken.recipes_by = named.recipes, SLANG

    def closed(self) -> None:
        servings = {w: (Sign.OP, f"{s.value}") for w, s in self.stock.rules.servings.items()}
        for phrase, (sign, value) in {**closed_words(), **servings}.items():
            words = words_of(phrase)
            entry = self.entry(words)
            if not (entry.recipes or entry.items or entry.pattern):
                entry.sign, entry.value = sign, value
        self._not_here()
        for number, thing in POURED.items():
            if known := self.phrases.get(words_of(thing)):
                entry = self.entry((number,))
                entry.sign, entry.value, entry.poured = Sign.COUNT, 7, known
        self._beer_glasses()
        for key, glass in self.stock.rules.glasses.items():
            for words in {words_of(glass.name), (*words_of(key.replace("-", " ")), "glass")}:
                for form in (words, ("in", "a", *words), ("in", *words)):
                    entry = self.entry(form)
                    if len(words) > 1 and not (entry.sign or entry.recipes or entry.items):
                        entry.sign, entry.value = Sign.GLASS, key

    def _not_here(self) -> None:
        """Words for what this house has run out of for good, or never had."""
        rules, pantry = self.stock.rules, self.stock.pantry
        gone = {w: s.replace("-", " ") for w, s in rules.slang.items() if s not in pantry}
        for word, name in {**OF_A_COUNTRY.get(rules.country, {}), **gone}.items():
            entry = self.entry(words_of(word))
            if not _means(entry):
                entry.sign, entry.value = Sign.ELSEWHERE, name

    def _beer_glasses(self) -> None:
        """What beer is called by, besides pints and halves: a schooner, a pot."""
        rules = self.stock.rules
        keys = {"pint", "half-pint", rules.default_glass.get(Family.DRAUGHT, "")}
        for key in sorted(keys & set(rules.glasses)):
            for name in (rules.glasses[key].name, key):
                words = tuple(w for w in words_of(name.replace("-", " ")) if w != "glass")
                for form in (words, ("in", "a", *words), ("in", *words)):
                    entry = self.entry(form)
                    if not _means(entry):
                        entry.sign, entry.value = Sign.OP, f"{BEER_GLASS}:{key}"

    def off_the_menu(self, unsold: Iterable[tuple[str, str]]) -> None:
        for said, name in unsold:
            for words in variants(said):
                entry = self.entry(words)
                if not _means(entry) or entry.sign is Sign.ELSEWHERE:
                    entry.sign, entry.value = Sign.UNSOLD, name

    def leftovers(self) -> None:
        """Words out of names that mean nothing by themselves: what they may be."""
        for word in sorted({w for words in self.phrases for w in words if len(w) > 2}):
            if word.isdigit():
                continue  # the number of a name is a count by itself
            if (word,) in self.phrases and _means(self.phrases[(word,)]):
                continue
            if items := self.stock.items_with(word):
                self.thing((word,), items, PART)
                self.entry((word,)).weak = not self._ends(word, items)
            elif recipes := tuple(self._recipes_with(word)):
                family = tuple(s for s in recipes if self._is_of_family(s, word))
                for slug in family if len(family) > 1 else recipes:
                    self.drink((word,), slug, PART)
                entry = self.entry((word,))
                entry.family, entry.kin = len(family) > 1, family
                if len(family) == 1 and len(bases := self._bases(family[0], recipes)) > 1:
                    entry.family, entry.bases = True, bases
                drinks = self.stock.drinks
                ends = any(words_of(drinks[s].name)[-1] == word for s in recipes)
                self.entry((word,)).weak = not ends

    def _ends(self, word: str, items: tuple[str, ...]) -> bool:
        """Whether it is the last word of what one of them is called: "schnapps", "curaçao"."""
        names = (
            n for s in items for n in (self.stock.pantry[s].name, *self.stock.pantry[s].aliases)
        )
        return any(words_of(n)[-1:] == (word,) for n in names)

    def _bases(self, kin: str, recipes: tuple[str, ...]) -> tuple[str, ...]:
        """The spirits of all drinks with a word in their name, one of each kind, first that of the
        one drink that is a base and this word: the others are made like it."""
        found: dict[Kind, str] = {}
        for base in (self.stock.base_of(s) for s in (kin, *recipes)):
            if base and self.stock.of_class(base, LiquorClass.SPIRIT):
                found.setdefault(self.stock.pantry[base].kind, base)
        return tuple(found.values())

    def _is_of_family(self, slug: str, word: str) -> bool:
        """A base and this word are the whole name: a gin martini, a vodka martini."""
        *base, last = words_of(self.stock.drinks[slug].name)
        known = self.phrases.get(tuple(base))
        return last == word and bool(known and self.stock.base_of(slug) in known.items)

    def _recipes_with(self, word: str) -> list[str]:
        """Drinks with this word in their name; failing that, in another name of theirs."""
        drinks = [d for d in self.stock.drinks.values() if not d.spec.alcohol_free]
        found = [d.slug for d in drinks if word in words_of(d.name)]
        return found or [d.slug for d in drinks if any(word in words_of(a) for a in d.aliases)]

    def book(self) -> Book:
        for entry in self.phrases.values():
            self.stock.weigh(entry)
        empty = [w for w, e in self.phrases.items() if not _means(e)]
        for words in empty:
            take_out(self.trie, words)
            del self.phrases[words]
        for words, entry in self.phrases.items():
            entry.straddled = entry.straddled or any(
                goes_on(self.trie, words[at:]) for at in range(1, len(words))
            )
            if entry.recipes and len(words) > 1:
                apart = cheapest_of(self.trie, words, entry)
                entry.cost = min(entry.cost, apart if apart is not None else entry.cost)
        names = {
            w
            for words, e in self.phrases.items()
            if e.sign in (None, Sign.UNSOLD)
            for w in words
            if len(w) > 2
        }
        known = {w for words in self.phrases for w in words}
        return Book(
            plain=plain_words(known),
            stock=self.stock,
            trie=self.trie,
            words=frozenset(known),
            joined=dict(joined(w for w, e in self.phrases.items() if e.is_content)),
            patterns=self.patterns,
            open_words=tuple(sorted(names)),
            entries=tuple(dict.fromkeys(self.phrases.values())),
        )


def _means(entry: Entry) -> bool:
    return bool(entry.sign or entry.recipes or entry.items or entry.pattern)
