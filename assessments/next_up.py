"""What to do in the next five minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from assessments.reads import ModuleProgress
from recipes.models import Module


class Kind(StrEnum):
    CARDS = "cards"
    READ = "read"
    QUIZ = "quiz"


@dataclass(frozen=True)
class ToDo:
    """One thing to do; cards are of no module."""

    kind: Kind
    module: Module | None = None


MOST = 3
"""More than one can do in five minutes, so that there is a choice (our own number, no source)."""


def to_do(progress: Sequence[ModuleProgress], cards: int) -> list[ToDo]:
    """The first things to do, the very next one first; nothing where all is passed and fresh.

    A new hire reads one module, and the one that nobody is ready without. Afterwards what fades
    comes first, and quizzes on what was read come before more reading; what lies open stands by
    itself (`under_way`). A module in which nothing is poured and nothing asked is nothing to be
    sent to.
    """
    return list(_in_order(progress, cards))[:MOST]


def _in_order(progress: Sequence[ModuleProgress], cards: int) -> Iterator[ToDo]:
    unread = [p.module for p in progress if not p.is_begun and p.can_ask]
    gates = [m for m in unread if m.is_gate]
    if unread and not any(p.is_begun for p in progress):
        first = unread[:1]
        yield from (ToDo(Kind.READ, m) for m in first + [g for g in gates if g not in first])
        return
    if cards:
        yield ToDo(Kind.CARDS)
    yield from (ToDo(Kind.READ, m) for m in gates)
    yield from (ToDo(Kind.QUIZ, m) for m in _quizzes(progress))
    yield from (ToDo(Kind.READ, m) for m in unread if m not in gates)


def _quizzes(progress: Sequence[ModuleProgress]) -> list[Module]:
    """On what was begun and not passed yet; what nobody is ready without first."""
    wanted = [p for p in progress if p.is_begun and p.can_ask and not (p.is_passed or p.open_quiz)]
    return sorted((p.module for p in wanted), key=lambda m: not m.is_gate)
