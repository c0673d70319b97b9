"""Laws of reading calls: it never fails, drops nothing; order and counts do what they should."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipes.grammar import calls
from recipes.grammar.calls import Status
from recipes.grammar.calls.grouping import group
from recipes.grammar.calls.lexing import pieces
from recipes.grammar.calls.marks import atoms
from recipes.grammar.calls.tokens import BREAKS, Said, at_once, tokens
from recipes.grammar.calls.words import Sign
from tests.grammar.called import book

US = "us-classic"
BASES = ("vodka", "gin", "tequila", "rum", "bourbon", "scotch", "brandy", "amaretto")
MIXERS = ("cola", "tonic", "soda", "cranberry", "orange juice", "pineapple", "ginger beer")
WORDS = st.sampled_from([
    "vodka", "gin", "soda", "tonic", "cran", "two", "3", "x2", "a", "and", ",", "no", "ice",
    "extra", "lime", "with", "double", "tall", "short", "neat", "up", "splash", "of", "water",
    "back", "half", "pint", "lager", "martini", "dirty", "virgin", "madras", "rickey", "press",
    "salt", "rim", "on", "the", "rocks", "please", "hold", "garnish", "straw", "zorble",
    "cranbery", "all", "side", "\n", "premium", "shot", "slice", "one", "bottle", "whiskey",
    "ginger", "🍸", "מים", "or", "just", "both", "top", "cold", "fresh",
])  # fmt: skip
CALLS = st.lists(WORDS, max_size=14).map(" ".join)


def same(one, other):
    return [(d.recipe, d.spec) for d in one.drinks] == [(d.recipe, d.spec) for d in other.drinks]


@given(st.text(max_size=200))
@settings(max_examples=300)
def test_any_text_gets_an_answer(text):
    reading = calls.read(text, book(US))

    assert reading.heard == text
    assert (reading.status is Status.READY) == bool(
        reading.drinks and not reading.ask and not reading.unplaced
    )
    assert (reading.status is Status.ASK) <= bool(reading.ask)


@given(CALLS)
@settings(max_examples=400)
def test_words_of_calls_in_any_order_get_an_answer_and_nothing_is_dropped(text):
    """Every word is in a drink, in a change that a drink took, small talk, or handed back."""
    words = book(US)
    said = [t for t in tokens(text) if t.word and t.word in {*words.words, *BREAKS}]
    found = atoms(pieces(words, [t.word for t in said]), said)
    placed = {i for a in found for i in a.at}
    small = {
        i
        for p in pieces(words, [t.word for t in said])
        if p.word in BREAKS or (p.entry and p.entry.sign in SMALL)
        for i in range(p.start, p.end)
    }
    grouped = group(words, found)
    reading = calls.read(text, words)

    assert (reading.status is Status.ASK) <= bool(reading.ask)
    assert placed | small == set(range(len(said)))
    assert set(grouped.unplaced) <= placed
    assert all(word in text for spoken in reading.unplaced for word in spoken.split())


SMALL = frozenset({
    Sign.FILLER, Sign.GLASS_OF, Sign.WITH, Sign.STEP, Sign.ONLY, Sign.FRESH,
})  # fmt: skip


@given(st.one_of(CALLS, st.text(alphabet="ab1 ,'x/(&%\n\r.3½é", max_size=30)))
@settings(max_examples=300)
def test_words_looked_up_at_once_are_the_words_one_by_one(text):
    known = book(US).plain | {w: w for w in ("a", "b", "ab", "ba", "aa", "bb")}
    found = at_once(text, known)
    said = [t for t in tokens(text) if t.word]

    if found is not None:
        assert found == [known[t.word] for t in said]
        assert list(Said(text)) == said


@given(CALLS)
@settings(max_examples=200)
def test_the_same_words_always_mean_the_same(text):
    assert calls.read(text, book(US)) == calls.read(text, book(US))


@given(CALLS)
@settings(max_examples=200)
def test_a_ready_call_is_understood_to_the_last_word(text):
    reading = calls.read(text, book(US))
    if reading.status is Status.READY:
        assert reading.unplaced == ()
        assert all(d.spec is not None and d.count > 0 for d in reading.drinks)


@given(CALLS, st.sampled_from(["zorbleck", "🍸", "ויסקי", "qqqqqq"]))
@settings(max_examples=200)
def test_a_word_that_nobody_knows_is_handed_back_and_never_leaves_it_ready(text, strange):
    reading = calls.read(f"{text} {strange}", book(US))

    assert strange in " ".join(reading.unplaced)
    assert reading.status is not Status.READY


@given(CALLS)
@settings(max_examples=200)
def test_capitals_and_blanks_change_nothing(text):
    plain = calls.read(text, book(US))
    loud = calls.read("  " + text.upper().replace(" ", "  ") + " ", book(US))

    assert same(plain, loud)
    assert plain.status is loud.status


@pytest.mark.parametrize("mixer", MIXERS)
@pytest.mark.parametrize("base", BASES)
def test_base_and_mixer_may_come_in_either_order(base, mixer):
    words = book(US)
    said = calls.read(f"{base} {mixer}", words)
    turned = [calls.read(t, words) for t in
              (f"{mixer} {base}", f"{mixer} and {base}", f"{base} and {mixer}")]  # fmt: skip

    assert len(said.drinks) == 1
    for other in turned:
        # "rum and cola" may be a name where "cola rum" is none: the build is the same.
        assert [d.spec and d.spec.parts for d in other.drinks] == [
            d.spec and d.spec.parts for d in said.drinks
        ]


@given(st.integers(1, 60), st.integers(1, 60))
@settings(max_examples=60)
def test_counts_add(one, other):
    words = book(US)
    reading = calls.read(f"{one} madras and {other} gin tonics", words)

    assert [d.count for d in reading.drinks] == [one, other]
    assert reading.count == one + other
    assert calls.read(f"{one} madras", words).count == one


LONG = {
    "ten thousand letters": "x" * 10_000,
    "ten thousand letters of drinks": "vodka soda " * 909,
    "strange words": " ".join(f"w{n}qz" for n in range(1500)),
    "commas": "," * 10_000,
    "pictures": "🍺" * 5_000,
    "from right to left": "ויסקי עם סודה " * 700,
    "articles": "a " * 5_000,
    "refusals": "no ice " * 1_400,
    "spirits": "gin and " * 1_250,
}


@pytest.mark.parametrize("text", LONG.values(), ids=LONG)
def test_a_very_long_call_is_answered_at_once(text):
    begin = time.process_time()
    reading = calls.read(text, book(US))

    assert time.process_time() - begin < 2
    assert reading.status is not Status.READY or not reading.unplaced


@pytest.mark.parametrize("text", ["", " ", "\n", "...", "please", "could I get", "a", "and", "two"])
def test_a_call_without_a_drink_is_unknown(text):
    reading = calls.read(text, book(US))

    assert (reading.status, reading.drinks) == (Status.UNKNOWN, ())


def test_a_round_of_sixty_drinks_is_read_whole():
    names = [d.name for d in list(book(US).stock.drinks.values())[:60]]
    reading = calls.read(", ".join(f"two {name}" for name in names), book(US))

    assert [d.name for d in reading.drinks] == names
    assert reading.count == 120
    assert reading.unplaced == ()
