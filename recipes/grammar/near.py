"""What a misspelt name may have meant: asked about, never taken for granted.

Two names are near where every word of one differs from its fellow by no more than a slip of the
hand: nothing in words of three letters, one letter in words of up to six, two in longer ones; or
where only the blanks differ. A best hit that another name shares is no answer: both come back.
"""

from collections.abc import Mapping

from rapidfuzz.distance import OSA

from recipes.grammar.course import fold

_SLIPS = ((3, 0), (6, 1))
"""A word of up to so many letters forgives so many slips (our own choice, no source)."""
_SLIPS_IN_LONG_WORDS = 2


def near(said: str, names: Mapping[str, str]) -> tuple[str, ...]:
    """What the names nearest to `said` stand for, each once, in order; empty where none is near.

    `names` leads from a folded name to what it stands for. One answer is what was probably meant;
    several are equally near.
    """
    spoken = fold(said)
    found: dict[int, dict[str, None]] = {}
    for name, meant in names.items():
        slips = _slips(spoken, name)
        if slips is not None:
            found.setdefault(slips, {})[meant] = None
    return tuple(sorted(found[min(found)])) if found else ()


def is_slip(word: str, other: str) -> bool:
    """Whether two folded words differ by no more than a slip of the hand, or not at all."""
    return OSA.distance(word, other) <= _forgiven(min(len(word), len(other)))


def _slips(one: str, other: str) -> int | None:
    """How many slips lie between two folded names; None for two different names."""
    if one.replace(" ", "") == other.replace(" ", ""):
        return 0 if one == other else 1
    mine, theirs = one.split(), other.split()
    if len(mine) != len(theirs):
        return None
    slips = 0
    for word, fellow in zip(mine, theirs, strict=True):
        between = OSA.distance(word, fellow)
        if between > _forgiven(min(len(word), len(fellow))):
            return None
        slips += between
    return slips


def _forgiven(letters: int) -> int:
    return next((slips for most, slips in _SLIPS if letters <= most), _SLIPS_IN_LONG_WORDS)
