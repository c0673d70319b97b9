"""A call read: words, phrases, drinks, then what each of them is built of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from recipes.grammar.calls.attaching import Draft
from recipes.grammar.calls.care import speaks_of_an_allergy
from recipes.grammar.calls.either import OR, with_either
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
from recipes.grammar.calls.stock import OTHER
from recipes.grammar.calls.strange import read_strange
from recipes.grammar.calls.suggest import MOST, Meant, suggestions
from recipes.grammar.calls.tokens import BREAKS, Said, Token, at_once, tokens
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import Sign


def read(text: str, book: Book) -> Reading:
    """What a guest, a hire or a till says, understood as far as it can be. Never fails."""
    if len(text) > MOST_LETTERS:
        return Reading(text, Status.UNKNOWN, unplaced=(text.strip(),) if text.strip() else ())
    words = at_once(text, book.plain)
    if words is not None:
        return _read(text, book, Said(text), words, ())
    said = [t for t in tokens(text) if t.word]
    if speaks_of_an_allergy(said, book.words):
        return Reading(text, Status.UNKNOWN, unplaced=(text.strip(),), allergy=True)
    return read_strange(said, book, partial(_read, text, book))


def _read(
    text: str, book: Book, said: Sequence[Token], words: list[str], reads: tuple[ReadAs, ...]
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
