"""How good the questions are: difficulty, whether they tell people apart, how far a score can be
trusted, and which wrong answers draw.

- Difficulty is the share of right answers; "I'd ask" counts as not right. What nobody came to
  before the time was up is no answer: it is missing, and counts nowhere.
- Discrimination is the corrected point-biserial: the correlation of an item with the score on all
  other items of the same quiz (Henrysson 1963); with the item itself left in, it would flatter.
  Its interval is by Fisher's z (1915), for a correlation with right and wrong an approximation;
  what is said of an item is said where all of the interval says it.
- Reliability is KR-20 (Kuder and Richardson 1937), with the population variance, which for items
  that are right or not is Cronbach's alpha (1951); its interval is Feldt's (1965). It is of people
  who answered all of their quiz.

Quizzes of one blueprint ask different questions in the same places. Here a place is what is
compared for reliability; for the items themselves it is the question.
"""

from collections import Counter, defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import fdtri, ndtri

from assessments.measures.intervals import exact_share
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "item_backwards": (),
    "item_wrong_draws": (),
    "item_too_hard": (),
    "item_too_easy": (),
    "item_says_little": (),
    "item_perhaps_backwards": ("count",),
    "trust_none": ("count",),
    "trust_unlike": ("people", "count"),
    "trust_unfinished": ("people", "count"),
    "trust_alike": ("people",),
    "trust_unsure": ("people", "low", "high"),
    "trust_good": ("people", "low", "high"),
    "trust_poor": ("people", "low", "high"),
}

FEWEST = 10
"""Of fewer answers nothing is said about an item's quality, and of fewer people nothing about how
far a score can be trusted (common practice, no source)."""

GOOD, POOR = 0.7, 0.5
"""A reliability of .7 is usual for low stakes (Nunnally 1978, from memory)."""

SAYS_LITTLE = 0.3
"""What hardly goes with the rest goes with it by less than this (common practice, no source)."""

EASY = 0.95
HARD = 0.35

Matrix = NDArray[np.float64]
"""People in rows, items in columns, 1 right and 0 not."""


def kr20(matrix: Matrix) -> float | None:
    """KR-20 of a full matrix; None for fewer than two people or items, or where all score alike."""
    people, items = matrix.shape
    if people < 2 or items < 2:
        return None
    variance = float(np.var(matrix.sum(axis=1)))
    if variance == 0:
        return None
    p = matrix.mean(axis=0)
    return float(items / (items - 1) * (1 - (p * (1 - p)).sum() / variance))


def feldt_interval(
    alpha: float, people: int, items: int, confidence: float = 0.95
) -> tuple[float, float]:
    """Feldt's interval of a reliability from so many people and items."""
    one, two, half = people - 1, (people - 1) * (items - 1), (1 - confidence) / 2
    low = 1 - (1 - alpha) * float(fdtri(one, two, 1 - half))
    high = 1 - (1 - alpha) * float(fdtri(one, two, half))
    return low, high


def point_biserial(item: Matrix, score: Matrix) -> float | None:
    """Pearson's correlation; None where either doesn't vary."""
    if len(item) < 2 or np.std(item) == 0 or np.std(score) == 0:
        return None
    return float(np.corrcoef(item, score)[0, 1])


def fisher_interval(
    correlation: float, people: int, confidence: float = 0.95
) -> tuple[float, float] | None:
    """Of a correlation from so many people; None for three or fewer."""
    if people <= 3:
        return None
    middle = float(np.arctanh(np.clip(correlation, -ALMOST, ALMOST)))
    half = float(ndtri((1 + confidence) / 2)) / float(np.sqrt(people - 3))
    return float(np.tanh(middle - half)), float(np.tanh(middle + half))


ALMOST = 1 - 1e-12
"""A perfect correlation has no finite z."""


@dataclass(frozen=True)
class Answered:
    """One answer: which question, in which quiz and place of it, what came, what was picked ("" for
    a right answer and for "I'd ask")."""

    item: str
    quiz: int
    place: str
    is_right: bool
    picked: str = ""


@dataclass(frozen=True)
class ItemStat:
    """One question. `low` and `high` are the exact 95 % interval of its difficulty, `apart` that of
    its discrimination, `draws` what
    was picked wrongly, most often first; `reasons` say why it should be looked at, worst first."""

    item: str
    answers: int
    right: int
    low: float
    high: float
    discrimination: float | None
    apart: tuple[float, float] | None
    draws: tuple[tuple[str, int], ...]
    reasons: tuple[Reason, ...]

    @property
    def can_tell_apart(self) -> bool:
        """Of a few people a correlation is chance."""
        return self.answers >= FEWEST

    @property
    def difficulty(self) -> float:
        return self.right / self.answers


@dataclass(frozen=True)
class Report:
    """`trust` says in a reason what the reliability means at this number of people: of all `people`
    with an answer those `compared` answered all of a quiz of the same places. Of fewer than
    `FEWEST` there is no reliability: a figure beside "too few" would be read all the same."""

    items: tuple[ItemStat, ...]
    people: int
    compared: int
    places: int
    reliability: float | None
    low: float | None
    high: float | None
    trust: Reason


def report(answers: Sequence[Answered], unfinished: Collection[int] = ()) -> Report:
    """Items to fix first come first. Give it each person's first quiz of one blueprint alone: who
    takes it again has seen the answers. `unfinished` are quizzes of which something was still open
    when the time was up: what was answered counts, the rest isn't among the answers."""
    by_item: dict[str, list[Answered]] = defaultdict(list)
    for answer in answers:
        by_item[answer.item].append(answer)
    rest = _rest_scores(answers)
    items = [_stat(item, found, rest) for item, found in by_item.items()]
    whole = [a for a in answers if a.quiz not in unfinished]
    matrix, finished = _matrix(whole), len({a.quiz for a in whole})
    people = len({a.quiz for a in answers})
    compared, places = matrix.shape
    alpha = kr20(matrix) if compared >= FEWEST else None
    low, high = feldt_interval(alpha, compared, places) if alpha is not None else (None, None)
    return Report(
        items=tuple(sorted(items, key=_worst_first)),
        people=people,
        compared=compared,
        places=places,
        reliability=alpha,
        low=low,
        high=high,
        trust=_trust(people, finished, compared, low, high),
    )


def _rest_scores(answers: Iterable[Answered]) -> dict[tuple[int, str], float]:
    """By quiz and item: the share right of all other items answered in the quiz."""
    quizzes: dict[int, list[Answered]] = defaultdict(list)
    for answer in answers:
        quizzes[answer.quiz].append(answer)
    found = {}
    for quiz, rows in quizzes.items():
        right = sum(r.is_right for r in rows)
        for r in rows:
            if len(rows) > 1:
                found[quiz, r.item] = (right - r.is_right) / (len(rows) - 1)
    return found


def _stat(item: str, found: Sequence[Answered], rest: Mapping[tuple[int, str], float]) -> ItemStat:
    right = sum(a.is_right for a in found)
    low, high = exact_share(right, len(found))
    scored = [(a.is_right, rest[a.quiz, item]) for a in found if (a.quiz, item) in rest]
    values = np.array(scored, dtype=float).reshape(-1, 2)
    discrimination = point_biserial(values[:, 0], values[:, 1])
    draws = tuple(Counter(a.picked for a in found if a.picked).most_common())
    apart = None if discrimination is None else fisher_interval(discrimination, len(values))
    reasons = _reasons(len(found), right, low, high, apart, draws)
    return ItemStat(item, len(found), right, low, high, discrimination, apart, draws, reasons)


def _reasons(
    n: int,
    right: int,
    low: float,
    high: float,
    apart: tuple[float, float] | None,
    draws: Sequence[tuple[str, int]],
) -> tuple[Reason, ...]:
    if n < FEWEST:
        return ()
    found = []
    least, most = apart or (0.0, 1.0)
    is_backwards, looks_so = most < 0, least + most < 0 <= most
    if is_backwards:
        found.append(Reason.of("item_backwards"))
    if draws and draws[0][1] > right:
        found.append(Reason.of("item_wrong_draws"))
    if high < HARD:
        found.append(Reason.of("item_too_hard"))
    if not is_backwards and most < SAYS_LITTLE:
        found.append(Reason.of("item_says_little"))
    elif looks_so:
        found.append(Reason.of("item_perhaps_backwards", count=n))
    if right == n and low > 1 - 4 * (1 - EASY):
        found.append(Reason.of("item_too_easy"))
    return tuple(found)


_WORST = ("item_backwards", "item_wrong_draws", "item_too_hard", "item_says_little",
          "item_perhaps_backwards", "item_too_easy")  # fmt: skip


def _worst_first(stat: ItemStat) -> tuple[int, float, int, str]:
    """Items with a reason first, by the reason; then the hardest; ties by name."""
    rank = _WORST.index(stat.reasons[0].code) if stat.reasons else len(_WORST)
    return rank, stat.difficulty, -stat.answers, stat.item


def _matrix(answers: Iterable[Answered]) -> Matrix:
    """People by places, of the quizzes that have the commonest set of places."""
    quizzes: dict[int, dict[str, bool]] = defaultdict(dict)
    for a in answers:
        quizzes[a.quiz][a.place] = a.is_right
    sets = Counter(tuple(sorted(q)) for q in quizzes.values())
    if not sets:
        return np.zeros((0, 0))
    [(places, _)] = sets.most_common(1)
    rows = [q for q in quizzes.values() if tuple(sorted(q)) == places]
    return np.array([[float(q[p]) for p in places] for q in rows])


def _trust(
    people: int, finished: int, compared: int, low: float | None, high: float | None
) -> Reason:
    if people >= FEWEST > finished:
        return Reason.of("trust_unfinished", people=people, count=finished)
    if people >= FEWEST > compared:
        return Reason.of("trust_unlike", people=people, count=compared)
    if people < FEWEST:
        return Reason.of("trust_none", count=people)
    if low is None or high is None:
        return Reason.of("trust_alike", people=compared)
    said = {"people": compared, "low": round(low, 2), "high": round(high, 2)}
    if low >= GOOD:
        return Reason.of("trust_good", **said)
    return Reason.of("trust_poor", **said) if high < POOR else Reason.of("trust_unsure", **said)


def places_of(keys: Sequence[tuple[str, str]]) -> list[str]:
    """A name for each item's place in its quiz, from (what kind of place, question): items of one
    kind are numbered in the order of their questions, so that quizzes of one blueprint have the
    same places."""
    named, met = [""] * len(keys), Counter[str]()
    for n in sorted(range(len(keys)), key=keys.__getitem__):
        kind = keys[n][0]
        met[kind] += 1
        named[n] = f"{kind} {met[kind]}"
    return named
