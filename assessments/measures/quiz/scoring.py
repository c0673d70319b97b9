"""Scoring a quiz from its items as asked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from assessments.measures.quiz.items import ASK, ItemAsked
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "quiz_passed": ("right", "of"),
    "quiz_share_too_low": ("right", "of", "pass_mark"),
    "quiz_critical_missed": ("count",),
    "quiz_asked": ("count",),
    "quiz_empty": (),
}

Outcome = Literal["right", "ask", "wrong"]


@dataclass(frozen=True)
class Tally:
    right: int = 0
    ask: int = 0
    wrong: int = 0

    @property
    def of(self) -> int:
        return self.right + self.ask + self.wrong


@dataclass(frozen=True)
class Mistake:
    """A wrong answer. `mixed_up_with` is the drink whose build or name was picked, if any."""

    item: int
    given: int
    right: int
    drink: str | None
    mixed_up_with: str | None


@dataclass(frozen=True)
class QuizResult:
    """What came of a quiz. `share` is right answers of all items, 0 to 1.

    "I'd ask" is neither right nor wrong: it is no mistake, and it is no proof of knowing.
    `missed_critical` are the critical items not answered right, asked ones too.
    """

    right: int
    asked_help: int
    wrong: int
    share: float
    passed: bool
    by_aspect: Mapping[str, Tally]
    asked: tuple[int, ...]
    missed_critical: tuple[int, ...]
    mistakes: tuple[Mistake, ...]
    reasons: tuple[Reason, ...]


def outcome(item: ItemAsked, given: int) -> Outcome:
    """Raises ValueError for an answer that is not among the choices."""
    if given == ASK:
        return "ask"
    if not 0 <= given < len(item.choices):
        raise ValueError(f"no choice number {given}")
    return "right" if given == item.right else "wrong"


def score(items: Sequence[ItemAsked], answers: Mapping[int, int], pass_mark: int) -> QuizResult:
    """The result of answers by item index; an item without an answer counts as "I'd ask".

    Passed: right answers reach the pass mark (percent of all items) and every critical item is
    right. To ask about a critical item is safe over the bar, but whoever must ask what a drunk
    guest is served, or what goes into an alcohol-free drink, has not learned it yet.
    Raises ValueError for answers to items or choices that were never asked.
    """
    stray = set(answers) - set(range(len(items)))
    if stray:
        raise ValueError(f"no item number {min(stray)}")
    given = [answers.get(i, ASK) for i in range(len(items))]
    outcomes = [outcome(item, g) for item, g in zip(items, given, strict=True)]
    right = outcomes.count("right")
    missed = tuple(i for i, item in enumerate(items) if item.critical and outcomes[i] != "right")
    enough = bool(items) and 100 * right >= pass_mark * len(items)
    return QuizResult(
        right=right,
        asked_help=outcomes.count("ask"),
        wrong=outcomes.count("wrong"),
        share=right / len(items) if items else 0.0,
        passed=enough and not missed,
        by_aspect=_by_aspect(items, outcomes),
        asked=tuple(i for i, o in enumerate(outcomes) if o == "ask"),
        missed_critical=missed,
        mistakes=tuple(
            _mistake(i, items[i], given[i]) for i, o in enumerate(outcomes) if o == "wrong"
        ),
        reasons=_reasons(right, len(items), pass_mark, enough, len(missed), outcomes.count("ask")),
    )


def _by_aspect(items: Sequence[ItemAsked], outcomes: Sequence[Outcome]) -> dict[str, Tally]:
    found: dict[str, Tally] = {}
    for item, came in zip(items, outcomes, strict=True):
        before = found.get(item.part, Tally())
        found[item.part] = replace(before, **{came: getattr(before, came) + 1})
    return found


def _mistake(index: int, item: ItemAsked, given: int) -> Mistake:
    return Mistake(index, given, item.right, item.recipe, item.choices[given].of or None)


def _reasons(
    right: int, of: int, pass_mark: int, enough: bool, missed: int, asked: int
) -> tuple[Reason, ...]:
    if not of:
        return (Reason.of("quiz_empty"),)
    found = []
    if not enough:
        found.append(Reason.of("quiz_share_too_low", right=right, of=of, pass_mark=pass_mark))
    if missed:
        found.append(Reason.of("quiz_critical_missed", count=missed))
    if not found:
        found.append(Reason.of("quiz_passed", right=right, of=of))
    if asked:
        found.append(Reason.of("quiz_asked", count=asked))
    return tuple(found)
