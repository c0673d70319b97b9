"""Scoring a quiz from its items as asked."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from assessments.measures.quiz.items import ASK, Given, ItemAsked, ItemKind
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "quiz_passed": ("right", "of"),
    "quiz_share_too_low": ("right", "of", "pass_mark"),
    "quiz_share_enough": ("right", "of"),
    "quiz_critical_missed": ("count",),
    "quiz_asked": ("count",),
    "quiz_unanswered": ("count",),
    "quiz_part_credit": ("credit", "of"),
    "quiz_empty": (),
}

Outcome = Literal["right", "ask", "wrong"]


@dataclass(frozen=True)
class Tally:
    """`open` is what has no answer."""

    right: int = 0
    ask: int = 0
    wrong: int = 0
    open: int = 0

    @property
    def of(self) -> int:
        return self.right + self.ask + self.wrong + self.open


@dataclass(frozen=True)
class Mistake:
    """A wrong answer. `mixed_up_with` is the drink whose build or name was picked, if any."""

    item: int
    given: Given
    right: Given
    drink: str | None
    mixed_up_with: str | None


@dataclass(frozen=True)
class QuizResult:
    """What came of a quiz. `share` is the credit of all items, 0 to 1: a right answer counts one,
    and of a build that is not all right, the parts that are.

    "I'd ask" is neither right nor wrong: it is no mistake, and it is no proof of knowing.
    `missed_critical` are the critical items not answered right, asked ones too. `unanswered` are
    those without an answer: they earn nothing and say nothing about what somebody knows.
    """

    right: int
    asked_help: int
    wrong: int
    share: float
    passed: bool
    by_aspect: Mapping[str, Tally]
    asked: tuple[int, ...]
    unanswered: tuple[int, ...]
    missed_critical: tuple[int, ...]
    mistakes: tuple[Mistake, ...]
    reasons: tuple[Reason, ...]


def outcome(item: ItemAsked, given: Given) -> Outcome:
    """Raises ValueError for an answer that is not among the choices."""
    if given == ASK:
        return "ask"
    refuse_stray(item, given)
    return "right" if given == item.right_answer else "wrong"


def refuse_stray(item: ItemAsked, given: Given) -> None:
    """ValueError for what isn't a whole answer to this item: one choice, some of them in rising
    order, all of them in some order, or one of each part."""
    if not _is_answer(item, given):
        raise ValueError(f"no answer to this item: {given}")


def _is_answer(item: ItemAsked, given: Given) -> bool:
    if isinstance(given, int):
        return not item.takes_several and 0 <= given < len(item.choices)
    match item.kind:
        case ItemKind.SEVERAL:
            in_order = list(given) == sorted(set(given))
            return bool(given) and in_order and given[0] >= 0 and given[-1] < len(item.choices)
        case ItemKind.ORDER:
            return sorted(given) == list(range(len(item.choices)))
        case ItemKind.BUILD:
            return len(given) == len(item.parts) and all(
                0 <= g < len(part.choices) for g, part in zip(given, item.parts, strict=True)
            )
    return False


def part_outcomes(item: ItemAsked, given: Given) -> tuple[tuple[str, Outcome], ...]:
    """By what a result counts it under: a build by its aspects, everything else as one."""
    if item.kind is not ItemKind.BUILD:
        return ((item.part, outcome(item, given)),)
    if isinstance(given, int):
        return tuple((part.aspect.value, "ask") for part in item.parts)
    pairs = zip(item.parts, given, strict=True)
    return tuple((p.aspect.value, "right" if g == p.right else "wrong") for p, g in pairs)


def credit(item: ItemAsked, given: Given) -> float:
    """0 to 1: the share of an item's parts that are right."""
    came = [o for _, o in part_outcomes(item, given)]
    return came.count("right") / len(came)


def shows(item: ItemAsked, given: Given) -> dict[str, bool]:
    """What an answer shows of each topic: of a build, what each of its parts shows."""
    return {t: right for t, right in _said_of(item, given).items() if t not in item.unshown}


def _said_of(item: ItemAsked, given: Given) -> dict[str, bool]:
    if item.kind is not ItemKind.BUILD or isinstance(given, int):
        return dict.fromkeys(item.topics, outcome(item, given) == "right")
    pairs = zip(item.parts, given, strict=True)
    return {topic: g == part.right for part, g in pairs for topic in part.topics}


def score(items: Sequence[ItemAsked], answers: Mapping[int, Given], pass_mark: int) -> QuizResult:
    """The result of answers by item index; an item without an answer is counted apart.

    Passed: the credit reaches the pass mark (percent of all items) and every critical item is
    right. To ask about a critical item is safe over the bar, but whoever must ask what a drunk
    guest is served, or what goes into an alcohol-free drink, has not learned it yet.
    Raises ValueError for answers to items or choices that were never asked.
    """
    stray = set(answers) - set(range(len(items)))
    if stray:
        raise ValueError(f"no item number {min(stray)}")
    given = [answers.get(i, ASK) for i in range(len(items))]
    unanswered = tuple(i for i in range(len(items)) if i not in answers)
    outcomes = [outcome(item, g) for item, g in zip(items, given, strict=True)]
    asked = tuple(i for i, o in enumerate(outcomes) if o == "ask" and i in answers)
    missed = tuple(i for i, item in enumerate(items) if item.critical and outcomes[i] != "right")
    earned = sum(credit(item, g) for item, g in zip(items, given, strict=True))
    enough = bool(items) and round(100 * earned, 6) >= pass_mark * len(items)
    return QuizResult(
        right=outcomes.count("right"),
        asked_help=len(asked),
        wrong=outcomes.count("wrong"),
        share=earned / len(items) if items else 0.0,
        passed=enough and not missed,
        by_aspect=_by_aspect(items, answers),
        asked=asked,
        unanswered=unanswered,
        missed_critical=missed,
        mistakes=tuple(
            _mistake(i, items[i], given[i]) for i, o in enumerate(outcomes) if o == "wrong"
        ),
        reasons=(
            *_reasons(outcomes, earned, pass_mark, enough, len(missed)),
            *_not_said(len(asked), len(unanswered)),
        ),
    )


def _by_aspect(items: Sequence[ItemAsked], answers: Mapping[int, Given]) -> dict[str, Tally]:
    found: dict[str, Tally] = {}
    for number, item in enumerate(items):
        for part, outcome in part_outcomes(item, answers.get(number, ASK)):
            came = outcome if number in answers else "open"
            before = found.get(part, Tally())
            found[part] = replace(before, **{came: getattr(before, came) + 1})
    return found


def _mistake(index: int, item: ItemAsked, given: Given) -> Mistake:
    return Mistake(index, given, item.right_answer, item.recipe, mixed_up_with(item, given))


def mixed_up_with(item: ItemAsked, given: Given) -> str | None:
    """The drink whose build or name was picked; of a chosen build, the one that all its wrong
    parts are from, where they are two or more: one wrong part is no other drink."""
    if isinstance(given, int):
        return None if given == ASK or item.takes_several else item.choices[given].of or None
    if item.kind is not ItemKind.BUILD:
        return None
    pairs = zip(item.parts, given, strict=True)
    wrong = [part.choices[g].of for part, g in pairs if g != part.right]
    return wrong[0] if len(wrong) > 1 and len(set(wrong)) == 1 else None


def _reasons(
    outcomes: Sequence[Outcome], earned: float, pass_mark: int, enough: bool, missed: int
) -> tuple[Reason, ...]:
    of, right = len(outcomes), outcomes.count("right")
    if not of:
        return (Reason.of("quiz_empty"),)
    found = []
    if not enough:
        found.append(Reason.of("quiz_share_too_low", right=right, of=of, pass_mark=pass_mark))
    if missed and enough:
        found.append(Reason.of("quiz_share_enough", right=right, of=of))
    if missed:
        found.append(Reason.of("quiz_critical_missed", count=missed))
    if not found:
        found.append(Reason.of("quiz_passed", right=right, of=of))
    if round(earned, 2) != right:
        found.append(Reason.of("quiz_part_credit", credit=round(earned, 1), of=of))
    return tuple(found)


def _not_said(asked: int, unanswered: int) -> Iterator[Reason]:
    if asked:
        yield Reason.of("quiz_asked", count=asked)
    if unanswered:
        yield Reason.of("quiz_unanswered", count=unanswered)
