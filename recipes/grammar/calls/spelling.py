"""Words that the house doesn't have: plurals, short forms of tickets, slips of the hand.

A word forgives as many slips as in `near`: none up to three letters, one up to six, two beyond.
Several words equally near are all returned; the call decides, or the guest is asked.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from rapidfuzz.distance import OSA

from recipes.grammar.calls.entries import PART
from recipes.grammar.calls.names import plain_words
from recipes.grammar.calls.stock import BASE
from recipes.grammar.calls.tokens import ONE_SPELLING
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import SOBER, TILL, Sign
from recipes.grammar.ingredients import LiquorClass

_SLIPS = ((3, 0), (6, 1))
_SLIPS_IN_LONG_WORDS = 2
MOST_NEAR = 4
"""More words than this equally near say nothing."""
_SAYS_NOTHING = (None, Sign.FILLER, Sign.ONLY, Sign.FRESH, Sign.GLASS_OF, Sign.UNSOLD, Sign.RETHINK)
"""Signs of words that no slip is taken for: who said "small" may not lose it as small talk."""
LEAST_CLOSED = 4
"""Letters that a word of no house has more than, to be known by anything but swapped letters; and
one of a house, to be known by another first letter: "malt" is no "salt"."""
LEAST_SHORT = 3
"""Letters that a short form has at least."""


@dataclass(frozen=True, slots=True)
class Guess:
    """`choices` are taken instead, several where they are equally near. `told`: say it back.
    `begun`: it is only the beginning of what it is taken for."""

    choices: tuple[tuple[str, ...], ...]
    told: bool
    begun: bool = False


NOTHING = Guess((), told=False)


def guess(book: Book, word: str) -> Guess:
    """What a word that the book doesn't have was meant to be. Remembered for each word."""
    found = book.known.get(word)
    if found is None:
        if len(book.known) > 20_000:
            book.known.clear()
            book.plain = plain_words(book.words)
        found = book.known[word] = _guess(book, word)
        if not found.told and len(found.choices) == 1 and len(found.choices[0]) == 1:
            book.plain[word] = found.choices[0][0]  # a plural, a till's short form
    taken: Guess = found
    return taken


def _guess(book: Book, word: str) -> Guess:
    single = next(
        (s for s in _singulars(word) if s in book.words and not _is_letter(book, s)), None
    )
    if single:
        return Guess(((single,),), told=False)
    sober = next((SOBER[w] for w in (word, *_singulars(word)) if w in SOBER), "").split()
    if sober and all(w in book.words for w in sober):
        return Guess((tuple(sober),), told=True)
    till = TILL.get(word)
    if till and all(w in book.words for w in till.split()):
        # One slip away it may as well be a slip: it is said back.
        told = OSA.distance(word, till, score_cutoff=1) <= 1
        return Guess((tuple(till.split()),), told=told)
    if word in book.joined:
        return Guess((book.joined[word],), told=True)
    if len(word) < LEAST_SHORT or not any(map(str.isalpha, word)):
        return NOTHING
    near = _near(book, word)
    if near:
        return Guess(tuple((n,) for n in near), told=True) if len(near) <= MOST_NEAR else NOTHING
    spelt = _in_other_spelling(book, word)
    if spelt:
        return Guess(((spelt,),), told=True)
    short = _short_for(book, word)
    if short:
        return Guess(tuple((s,) for s in short), told=True, begun=True)
    joined = _joined_near(book, word)
    if joined:
        return Guess((joined,), told=True)
    closed = _closed_near(book, word)
    return Guess(((closed,),), told=True) if closed else NOTHING


def _is_letter(book: Book, word: str) -> bool:
    """ "N" is "and": there are not several of it, and "NS" on a ticket is something else."""
    entry = book.entry_for(word) if len(word) == 1 and word.isalpha() else None
    return entry is not None and entry.sign is not None


def _in_other_spelling(book: Book, word: str) -> str | None:
    """The word that one of its spellings is a slip away from: "wisky"."""
    for spelling, known in ONE_SPELLING.items():
        allowed = forgiven(min(len(word), len(spelling)))
        slips = OSA.distance(word, spelling, score_cutoff=allowed)
        if known in book.words and slips <= allowed and word[0] == spelling[0]:
            return known
    return None


def _closed_near(book: Book, word: str) -> str | None:
    """The one word of no house, "double" or "and", that it is a slip away from. A short one is
    only taken where two letters changed places."""
    if not book.closed:
        signed = (e for e in book.entries if e.sign not in _SAYS_NOTHING)
        book.closed = tuple(e.phrase for e in signed if e.phrase.isalpha())
    near = [w for w in book.closed if abs(len(w) - len(word)) <= 1 and _is_slip(word, w)]
    return near[0] if len(near) == 1 else None


def _is_slip(word: str, known: str) -> bool:
    if len(word) <= LEAST_CLOSED or len(known) <= LEAST_CLOSED:
        return _swapped(word, known)
    return OSA.distance(word, known, score_cutoff=1) <= 1


def _swapped(word: str, known: str) -> bool:
    """Two neighbouring letters have changed places: one slip, also in a word of three letters."""
    return (
        len(word) == len(known)
        and sorted(word) == sorted(known)
        and OSA.distance(word, known, score_cutoff=1) == 1
    )


def _singulars(word: str) -> Iterator[str]:
    if word.endswith("s") and len(word) > 1:
        yield word[:-1]
        if word.endswith("es"):
            yield word[:-2]
        if word.endswith("ies"):
            yield word[:-3] + "y"
        if word.endswith("ves"):
            yield word[:-3] + "f"


def _near(book: Book, word: str) -> tuple[str, ...]:
    allowed = forgiven(len(word))
    if not allowed:
        return tuple(k for k in book.open_words if _swapped(word, k))
    best, found = allowed + 1, []
    for known in _candidates(book, word, allowed):
        slips = OSA.distance(word, known, score_cutoff=min(best, allowed))
        if slips > min(allowed, forgiven(min(len(word), len(known)))):
            continue
        if slips < best:
            best, found = slips, [known]
        elif slips == best:
            found.append(known)
    same = [k for k in found if k[0] == word[0]]
    return tuple(same or (found if len(word) > LEAST_CLOSED else ()))


def _candidates(book: Book, word: str, allowed: int) -> Iterator[str]:
    """Words of about this length that share a beginning or an end with it."""
    heads, tails = _buckets(book)
    met: set[str] = set()
    for size in range(len(word) - allowed, len(word) + allowed + 1):
        for bucket, edge in ((heads, word[:1]), (heads, word[1:2]), (tails, word[-2:])):
            for known in bucket.get((size, edge), ()):
                if known not in met:
                    met.add(known)
                    yield known


Buckets = dict[tuple[int, str], list[str]]


def forgiven(letters: int) -> int:
    return next((slips for most, slips in _SLIPS if letters <= most), _SLIPS_IN_LONG_WORDS)


def _buckets(book: Book) -> tuple[Buckets, Buckets]:
    """The words of names by their length and first letter, and by length and last two."""
    if book.buckets is None:
        book.buckets = _sorted_in(book)
    found: tuple[Buckets, Buckets] = book.buckets
    return found


def _sorted_in(book: Book) -> tuple[Buckets, Buckets]:
    heads: Buckets = defaultdict(list)
    tails: Buckets = defaultdict(list)
    for known in book.open_words:
        heads[len(known), known[:1]].append(known)
        tails[len(known), known[-2:]].append(known)
    return heads, tails


def _short_for(book: Book, word: str) -> tuple[str, ...]:
    """The one word that it begins, or whose consonants it is: "whisk", "vdk". Where few letters
    begin it and one of them less begins another one, both may be meant: "suns"."""
    begun = [k for k in book.open_words if k.startswith(word)]
    if len(begun) == 1:
        few = LEAST_SHORT < len(word) <= LEAST_CLOSED
        near = [k for k in book.open_words if few and k.startswith(word[:-1]) and k not in begun]
        return (*begun, *near) if len(near) == 1 else (begun[0],)
    bones = [k for k in book.open_words if k[0] == word[0] and _bones(k) == word]
    return (bones[0],) if len(bones) == 1 and not begun else ()


_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")
_VOWELS = frozenset("aeiouy")
_BESIDE = frozenset(pair for row in _ROWS for one, other in pairwise(row)
                    for pair in ((one, other), (other, one)))  # fmt: skip
SHORT = 3
"""Letters of a spirit's name in which one slip leaves too little to know it by itself."""


def short_slips(book: Book, word: str) -> tuple[str, ...]:
    """Spirits with a name of three letters that it is a slip away from: a letter left out or said
    twice, a vowel for a vowel, a key for the one beside it. Whether it is meant, the call says."""
    if not SHORT - 1 <= len(word) <= SHORT + 1 or not word.isalpha():
        return ()
    return tuple(k for k in _short_spirits(book) if _is_short_slip(word, k))


def _short_spirits(book: Book) -> tuple[str, ...]:
    if book.short_spirits is None:
        named = (e for e in book.entries if len(e.phrase) == SHORT and e.role == BASE)
        sure = (e for e in named if e.items and e.items_by < PART and not e.sign)
        spirit = (e.phrase for e in sure if book.stock.of_class(e.items[0], LiquorClass.SPIRIT))
        book.short_spirits = tuple(sorted(spirit))
    return book.short_spirits


def _is_short_slip(word: str, known: str) -> bool:
    if len(word) != len(known):
        longer, shorter = (word, known) if len(word) > len(known) else (known, word)
        gone = [n for n in range(len(longer)) if longer[:n] + longer[n + 1 :] == shorter]
        return bool(gone) and (len(word) < len(known) or len(gone) > 1)
    off = [(a, b) for a, b in zip(word, known, strict=True) if a != b]
    return len(off) == 1 and (off[0] in _BESIDE or _VOWELS.issuperset(off[0]))


@lru_cache(maxsize=5000)
def _bones(word: str) -> str:
    return word[:1] + "".join(c for c in word[1:] if c not in "aeiouy")


def _joined_near(book: Book, word: str) -> tuple[str, ...] | None:
    """Two words written as one, misspelt: only where nothing else is as near."""
    if len(word) < 8:
        return None
    near = [p for j, p in book.joined.items() if abs(len(j) - len(word)) <= 1 and j[0] == word[0]
            and OSA.distance(word, j, score_cutoff=1) <= 1]  # fmt: skip
    return near[0] if len(set(near)) == 1 else None
