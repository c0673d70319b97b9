"""A call read: words, phrases, drinks, then what each of them is built of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from recipes.grammar.calls.attaching import Draft
from recipes.grammar.calls.either import OR, with_either
from recipes.grammar.calls.entries import PART
from recipes.grammar.calls.grouping import group
from recipes.grammar.calls.lexing import Piece, pieces
from recipes.grammar.calls.marks import atoms
from recipes.grammar.calls.reading import (
    MOST_LETTERS,
    About,
    CalledDrink,
    Question,
    ReadAs,
    Reading,
    Status,
)
from recipes.grammar.calls.serving import Served, serve
from recipes.grammar.calls.spelling import Guess, guess
from recipes.grammar.calls.stock import OTHER
from recipes.grammar.calls.suggest import MOST, Meant, suggestions
from recipes.grammar.calls.tokens import BREAKS, Said, Token, at_once, tokens
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import Sign

MOST_GUESSED = 60
"""Strange words of one call that are looked up by their likeness; more than that is no call."""
MOST_FORKS = 8


def read(text: str, book: Book) -> Reading:
    """What a guest, a hire or a till says, understood as far as it can be. Never fails."""
    if len(text) > MOST_LETTERS:
        return Reading(text, Status.UNKNOWN, unplaced=(text.strip(),) if text.strip() else ())
    words = at_once(text, book.plain)
    if words is not None:
        return _read(text, Said(text), words, (), book)
    return _read_strange(text, [t for t in tokens(text) if t.word], book)


def _read_strange(text: str, said: list[Token], book: Book) -> Reading:
    """With words that the book doesn't have: each taken for what it is nearest to."""
    spelt: list[Token] = []
    told: dict[str, str] = {}
    forks: list[tuple[int, Guess]] = []
    budget, at = MOST_GUESSED, 0
    while at < len(said):
        token = said[at]
        at += 1
        plain = book.plain.get(token.word)
        if plain is not None:
            spelt.append(token if plain == token.word else Token(token.said, plain))
            continue
        if at < len(said) and token.word + said[at].word in book.words:
            both = token.word + said[at].word
            told[f"{token.said} {said[at].said}"] = both
            spelt.append(Token(f"{token.said} {said[at].said}", both))
            at += 1
            continue
        if spelt and spelt[-1].word + token.word in book.words and spelt[-1].word not in BREAKS:
            before = spelt.pop()
            both = before.word + token.word
            told[f"{before.said} {token.said}"] = both
            spelt.append(Token(f"{before.said} {token.said}", both))
            continue
        fresh = token.word not in book.known
        found = guess(book, token.word) if not fresh or budget > 0 else None
        budget -= fresh
        if found is None or not found.choices:
            spelt.append(token)
        elif len(found.choices) > 1:
            forks.append((len(spelt), found))
            spelt.append(token)
        else:
            meant = found.choices[0]
            if found.told:
                told[token.said] = " ".join(meant)
            spelt += [Token(token.said if n == 0 else "", w) for n, w in enumerate(meant)]
    words = [t.word for t in spelt]
    _unguess(book, spelt, words, told)
    reads = tuple(ReadAs(s, m) for s, m in told.items())
    if not forks:
        return _read(text, spelt, words, reads, book)
    return _forked(text, spelt, words, reads, forks, book)


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
    text: str, spelt: list[Token], words: list[str], reads: tuple[ReadAs, ...],
    forks: list[tuple[int, Guess]], book: Book,
) -> Reading:  # fmt: skip
    """Words near to several others: the choice that leaves least open; equal ones are asked."""
    for place, found in forks[:MOST_FORKS]:
        tried = []
        for choice in found.choices:
            again = [*words[:place], *choice, *words[place + 1 :]]
            reading = _read(text, spelt, again, reads, book)
            tried.append((_open(reading), choice, reading))
        least = min(score for score, _, _ in tried)
        best = [(choice, reading) for score, choice, reading in tried if score == least]
        if len({_drinks_of(r) for _, r in best}) > 1 and len(forks) == 1:
            return _torn(best, spelt[place].said)
        words = [*words[:place], *best[0][0], *words[place + 1 :]]
        reads = (*reads, ReadAs(spelt[place].said, " ".join(best[0][0])))
    return _read(text, spelt, words, reads, book)


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


def _read(
    text: str, said: Sequence[Token], words: list[str], reads: tuple[ReadAs, ...], book: Book
) -> Reading:
    found = with_either(book, words) if OR in words else pieces(book, words)
    grouped = group(book, atoms(found, _aligned(said, words)))
    drinks: list[CalledDrink] = []
    ask: list[Question] = []
    lost: set[int] = set(grouped.unplaced)
    strange = bool(lost)
    meant: list[str] = []
    for draft in grouped.drafts:
        served = _served(book, draft)
        if lost and _out_of_a_name(book, draft):
            lost.update(draft.at)
            meant += _those(draft)
            continue
        lost.update(i for n in served.refused for i in draft.changes[n].at)
        if served.drop:
            lost.update(i for a in draft.changes for i in a.at)
            meant += served.meant
            continue
        ask += [Question(len(drinks), about, choices) for about, choices in served.ask]
        drinks.append(_called(draft, served))
    if grouped.drafts and not drinks:
        lost.update(i for i, w in enumerate(words) if w not in BREAKS)
    if lost and not drinks:
        meant += _with_it(book, found)
    unplaced = tuple(_spoken(said, words, sorted(lost))) if lost else ()
    if unplaced:
        ask = [q for q in ask if q.about is not About.STYLE]  # the word may say how, or what with
    sought = frozenset(lost) if strange or (lost and drinks) else frozenset()
    return Reading(
        heard=text,
        status=_status(drinks, ask, unplaced),
        drinks=tuple(drinks),
        ask=tuple(ask),
        read_as=reads,
        unplaced=unplaced,
        suggest=partial(_suggested, book, said, words, sought, meant) if meant or sought else None,
        not_sold=tuple(dict.fromkeys(_unsold(found))) if lost else (),
    )


def _suggested(
    book: Book, said: Sequence[Token], words: list[str], sought: frozenset[int], meant: list[str]
) -> dict[str, str]:
    """What was meant, with the words that may be it, the likest first; "" for all of them."""
    near = suggestions(book, words, sought) if sought else ()
    phrases = {m.slug: _phrase(said, words, m) for m in near if m.slug not in meant}
    both = dict.fromkeys(meant, "") | phrases
    return dict(list(both.items())[:MOST])


def _with_it(book: Book, found: list[Piece]) -> list[str]:
    """The drinks with something in them that is none by itself, and was called for by itself."""
    items = {i for p in found if p.entry and p.entry.role == OTHER for i in p.entry.items}
    drinks = book.stock.drinks.values()
    several = [d.slug for d in drinks if items & {p.ingredient for p in d.spec.parts}]
    return several if len(several) <= MOST else []


def _unsold(found: list[Piece]) -> Iterator[str]:
    for piece in found:
        if piece.entry and piece.entry.sign in (Sign.UNSOLD, Sign.ELSEWHERE):
            yield str(piece.entry.value)


def _out_of_a_name(book: Book, draft: Draft) -> bool:
    """One word of a name, among words that nobody knows: a thought, and no drink."""
    identity = draft.identity
    if identity.recipe is None:
        entry = book.entry_for(identity.name) if identity.build is None else None
        return bool(entry and entry.weak and entry.phrase == identity.name)
    return bool(identity.why and identity.why[0].code == "call_part")


def _those(draft: Draft) -> tuple[str, ...]:
    """The drinks that one word of a name may have been about."""
    if draft.identity.recipe:
        return (draft.identity.recipe,)
    return next((c for about, c in draft.identity.ask if about is About.DRINK), ())


def _aligned(said: Sequence[Token], words: list[str]) -> Sequence[Token]:
    return (
        said if isinstance(said, Said) or len(said) == len(words) else [Token(w, w) for w in words]
    )


def _spoken(said: Sequence[Token], words: list[str], lost: list[int]) -> Iterator[str]:
    tokens_ = _aligned(said, words)
    for at in lost:
        if tokens_[at].said:
            yield tokens_[at].said


def _phrase(said: Sequence[Token], words: list[str], meant: Meant) -> str:
    """The words that may have been this, as they were said."""
    return " ".join(t.said for t in _aligned(said, words)[meant.start : meant.end] if t.said)


def _served(book: Book, draft: Draft) -> Served:
    ops = tuple([(a.code, a.item) for a in draft.changes])
    return serve(book, draft.identity, ops)


def _called(draft: Draft, served: Served) -> CalledDrink:
    return CalledDrink(
        draft.count, served.recipe, served.name, served.build, served.spec, served.changes,
        served.why, served.shown,
    )  # fmt: skip


def _status(drinks: list[CalledDrink], ask: list[Question], unplaced: tuple[str, ...]) -> Status:
    """Ask only where there is a question. Words that nobody placed are none."""
    if not drinks or (unplaced and not ask):
        return Status.UNKNOWN
    return Status.ASK if ask else Status.READY
