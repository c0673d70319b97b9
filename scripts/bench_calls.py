"""How many calls a second are read, against merely splitting them and looking up their words."""

import gc
import random
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recipes.grammar.calls import Book
    from recipes.grammar.course import CourseDrink

CALLS = 4000
INGREDIENTS = 300
LEAST_SLIPPED = 5
"""Letters of a word that a slip of the hand is put into."""
TURNS = 3
SYLLABLES = ["ba", "co", "di", "fu", "ga", "lo", "mi", "nu", "pa", "ro", "sa", "te", "vi", "zo"]


def invented(rng: random.Random) -> str:
    """A name that sounds like one, so that the vocabulary is as big as asked for."""
    word = "".join(rng.choice(SYLLABLES) for _ in range(rng.randrange(3, 5)))
    return word.capitalize()


def big_book(drinks: "list[CourseDrink]") -> "Callable[[], Book]":
    """A vocabulary of these drinks, renamed where they come twice, and of many ingredients; made
    anew each time, so that nothing is remembered."""
    from recipes.grammar import calls
    from recipes.grammar.drink import make_drink
    from recipes.grammar.ingredients import Kind
    from recipes.shipped import shipped_course, shipped_rules

    rng, rules = random.Random(1), shipped_rules()  # noqa: S311  # the same names every time
    pantry = {item.slug: item for item in shipped_course().ingredients}
    while len(pantry) < INGREDIENTS:
        name = invented(rng)
        kind = rng.choice((Kind.LIQUEUR, Kind.JUICE, Kind.RUM, Kind.SYRUP))
        said = {"slug": name.lower(), "name": name, "kind": kind, "aliases": ()}
        stray = pantry["vodka"].model_copy(update=said)
        pantry.setdefault(stray.slug, stray)
    made, met = [], set()
    for drink in drinks:
        twice = drink.name in met
        met.add(drink.name)
        name = f"{invented(rng)} {invented(rng)}" if twice else drink.name
        made.append(
            make_drink(
                slug=drink.slug, name=name, module="", spec=drink.spec, rules=rules,
                pantry=pantry, aliases=() if twice else drink.aliases, share=1.0,
            )
        )  # fmt: skip
    return lambda: calls.vocabulary(rules, made, pantry)


def slipped(text: str, rng: random.Random) -> str:
    """With two letters of one word in the wrong order, or one letter left out."""
    words = text.split(" ")
    long = [n for n, word in enumerate(words) if len(word) >= LEAST_SLIPPED and word.isalpha()]
    if not long:
        return text
    at = rng.choice(long)
    word, cut = words[at], rng.randrange(1, len(words[at]) - 1)
    turned = word[:cut] + word[cut + 1] + word[cut] + word[cut + 2 :]
    words[at] = turned if turned != word else word[:cut] + word[cut + 1 :]
    return " ".join(words)


def measure_calls(drinks: "list[CourseDrink]") -> None:
    from recipes.grammar import calls

    make = big_book(drinks)
    begin = time.process_time()
    make()
    print(f"{'a book of words made':<44} {(time.process_time() - begin) * 1e3:8.0f} ms")
    book, rng = make(), random.Random(2)  # noqa: S311
    made = (calls.generate(book, rng, drinks=1).text for _ in range(2 * CALLS))
    right = list(dict.fromkeys(made))[:CALLS]
    wrong = list(dict.fromkeys(t for t in (slipped(t, rng) for t in right) if t not in right))
    for what, texts in (("calls as they are spelt", right), ("calls with a slip", wrong)):
        floor = min(looked_up(texts, book) for _ in range(TURNS))
        cold = min(read_cold(texts, make) for _ in range(TURNS))
        rate = len(texts) / cold
        print(f"{what:<44} {rate:8.0f} a second, {floor and cold / floor:9.1f} times looking up")


def looked_up(texts: list[str], book: "Book") -> float:
    known = book.words
    begin = time.process_time()
    for text in texts:
        [word in known for word in text.lower().split()]
    return time.process_time() - begin


def read_cold(texts: list[str], make: "Callable[[], Book]") -> float:
    """Seconds for calls that are all different, by a reader that has read none before."""
    from recipes.grammar import calls

    book = make()
    gc.collect()  # what making the book left behind is not the calls' to pay for
    begin = time.process_time()
    for text in texts:
        calls.read(text, book)
    return time.process_time() - begin
