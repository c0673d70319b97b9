"""A call with words that the house doesn't have: each taken for what it is nearest to, and said
back; left strange where that would leave as many words without a place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from recipes.grammar.calls.entries import PART
from recipes.grammar.calls.lexing import pieces
from recipes.grammar.calls.reading import About, Question, ReadAs, Reading, Status
from recipes.grammar.calls.spelling import Guess, guess, short_slips
from recipes.grammar.calls.tokens import BREAKS, Token
from recipes.grammar.calls.vocabulary import Book

MOST_GUESSED = 60
"""Strange words of one call that are looked up by their likeness; more than that is no call."""
MOST_FORKS = 8
MOST_DOUBTED = 4
Read = Callable[[Sequence[Token], list[str], tuple[ReadAs, ...]], Reading]


@dataclass(slots=True)
class _Fork:
    """A word near to several others. `slips` are short words, taken only with something beside."""

    place: int
    choices: tuple[tuple[str, ...], ...]
    slips: frozenset[str]


@dataclass(slots=True)
class _Spelt:
    tokens: list[Token] = field(default_factory=list)
    told: dict[str, str] = field(default_factory=dict)
    forks: list[_Fork] = field(default_factory=list)

    def joined(self, *parts: Token) -> None:
        both, said = "".join(p.word for p in parts), " ".join(p.said for p in parts)
        self.told[said] = both
        self.tokens.append(Token(said, both))


def read_strange(said: list[Token], book: Book, read: Read) -> Reading:
    spelt = _spelt(said, book)
    words = [t.word for t in spelt.tokens]
    _unguess(book, spelt.tokens, words, spelt.told)
    reads = tuple(ReadAs(s, m) for s, m in spelt.told.items())
    for fork in spelt.forks[:MOST_FORKS]:
        words, reads, torn = _forked(book, spelt, fork, words, reads, read)
        if torn is not None:
            return torn
    return _doubted(spelt.tokens, words, reads, read)


def _spelt(said: list[Token], book: Book) -> _Spelt:
    found, budget, at = _Spelt(), MOST_GUESSED, 0
    while at < len(said):
        token = said[at]
        at += 1
        plain = book.plain.get(token.word)
        before = found.tokens[-1] if found.tokens else None
        if plain is not None:
            found.tokens.append(token if plain == token.word else Token(token.said, plain))
        elif at < len(said) and token.word + said[at].word in book.words:
            found.joined(token, said[at])
            at += 1
        elif before and before.word + token.word in book.words and before.word not in BREAKS:
            found.joined(found.tokens.pop(), token)
        else:
            fresh = token.word not in book.known
            _guessed(
                found, token, guess(book, token.word) if not fresh or budget > 0 else None, book
            )
            budget -= fresh
    return found


def _guessed(found: _Spelt, token: Token, meant: Guess | None, book: Book) -> None:
    choices = meant.choices if meant else ()
    slips = short_slips(book, token.word) if meant is None or not choices or meant.begun else ()
    if slips or len(choices) > 1:
        both = tuple(dict.fromkeys((*choices, *((s,) for s in slips))))
        found.forks.append(_Fork(len(found.tokens), both, frozenset(slips)))
        found.tokens.append(token)
    elif not choices or meant is None:
        found.tokens.append(token)
    else:
        [words] = choices
        if meant.told:
            found.told[token.said] = " ".join(words)
        found.tokens += [Token(token.said if n == 0 else "", w) for n, w in enumerate(words)]


def _unguess(book: Book, spelt: list[Token], words: list[str], told: dict[str, str]) -> None:
    """A strange word that would only be one out of a longer name stays strange."""
    for piece in pieces(book, words) if told else ():
        said, entry = spelt[piece.start].said, piece.entry
        weak = entry is None or (entry.recipes_by == PART and entry.items_by == PART)
        weak = weak and not (entry and entry.family)  # "martini" is said of either one
        weak = weak and (entry is None or (entry.sign is None and not entry.pattern))
        if said in told and piece.end - piece.start == 1 and weak:
            words[piece.start] = said.casefold()
            del told[said]


def _forked(
    book: Book, spelt: _Spelt, fork: _Fork, words: list[str], reads: tuple[ReadAs, ...], read: Read
) -> tuple[list[str], tuple[ReadAs, ...], Reading | None]:
    """The choice that leaves least open; of equal ones it is asked which. None of them where a
    short word has nothing beside it that says so."""
    place, said = fork.place, spelt.tokens[fork.place].said
    if len(words) != len(spelt.tokens):
        return words, reads, None
    tried = []
    for choice in fork.choices:
        again = [*words[:place], *choice, *words[place + 1 :]]
        reading = read(spelt.tokens, again, reads)
        if choice[0] not in fork.slips or _is_beside(book, reading, choice[0]):
            tried.append((_open(reading), choice, reading))
    if fork.slips and not any(choice[0] in fork.slips for _, choice, _ in tried):
        return words, reads, None
    least = min(score for score, _, _ in tried)
    best = [(choice, reading) for score, choice, reading in tried if score == least]
    if len({_drinks_of(r) for _, r in best}) > 1 and len(spelt.forks) == 1:
        return words, reads, _torn(best, said)
    chosen = best[0][0]
    told = (*reads, ReadAs(said, " ".join(chosen)))
    return [*words[:place], *chosen, *words[place + 1 :]], told, None


def _is_beside(book: Book, reading: Reading, word: str) -> bool:
    """Whether a spirit of this name is in a drink with something else in it."""
    entry = book.entry_for(word)
    items = set(entry.items) if entry else set()
    for at, drink in enumerate(reading.drinks):
        inside = {p.ingredient for p in drink.build.parts} if drink.build else set()
        asked = {c for q in reading.asks_about(at) if q.about is About.BASE for c in q.choices}
        if items & (inside | asked) and inside - items:
            return True
    return False


def _doubted(
    spelt: Sequence[Token], words: list[str], reads: tuple[ReadAs, ...], read: Read
) -> Reading:
    """Without the guesses that found no place for more words than they cost another one its."""
    reading = read(spelt, words, reads)
    for told in reads[:MOST_DOUBTED] if reading.unplaced else ():
        at = next((n for n, t in enumerate(spelt) if t.said == told.said), None)
        if at is None or len(words) != len(spelt) or " " in told.said:
            continue
        plain = [*words[:at], told.said.casefold(), *words[at + 1 :]]
        left = tuple(r for r in reading.read_as if r != told)
        other = read(spelt, plain, left)
        worse = len(other.unplaced) > len(reading.unplaced)
        if not worse and len(other.not_sold) >= len(reading.not_sold):
            reading, words = other, plain
    heard = tuple(r for r in reading.read_as if r.said not in reading.unplaced)
    return reading if heard == reading.read_as else replace(reading, read_as=heard)


def _open(reading: Reading) -> tuple[int, int, int]:
    unknown = sum(d.spec is None for d in reading.drinks) or (not reading.drinks)
    return len(reading.unplaced), int(unknown), len(reading.drinks)


def _drinks_of(reading: Reading) -> tuple[object, ...]:
    return tuple((d.count, d.recipe, d.name, d.changes) for d in reading.drinks)


def _torn(best: list[tuple[tuple[str, ...], Reading]], said: str) -> Reading:
    """Equally near to two drinks: which one is asked."""
    first = best[0][1]
    readings = [r for _, r in best]
    drinks, ask = list(first.drinks), list(first.ask)
    for at in range(len(drinks)):
        rivals = [r.drinks[at] for r in readings if at < len(r.drinks)]
        names = tuple(dict.fromkeys(d.recipe or d.name for d in rivals))
        if len(names) > 1:
            drinks[at] = replace(drinks[at], recipe=None, build=None, spec=None, name=said)
            ask = [q for q in ask if q.drink != at] + [Question(at, About.DRINK, names)]
    return replace(
        first, drinks=tuple(drinks), ask=tuple(sorted(ask, key=lambda q: q.drink)),
        status=Status.ASK,
    )  # fmt: skip
