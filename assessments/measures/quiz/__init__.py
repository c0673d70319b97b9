"""Quizzes computed from house specs: written by blueprint and seed, stored as asked, scored."""

from assessments.measures.quiz.blueprint import (
    DEFAULT_MIX,
    PASS_MARK,
    QuizPlan,
    default_plan,
    is_critical,
)
from assessments.measures.quiz.items import (
    ASK,
    Choice,
    ItemAsked,
    ItemKind,
    Scenario,
    guess_chance,
)
from assessments.measures.quiz.scoring import Mistake, QuizResult, Tally, outcome, score
from assessments.measures.quiz.writing import generate, scenario_topic

__all__ = [
    "ASK",
    "DEFAULT_MIX",
    "PASS_MARK",
    "Choice",
    "ItemAsked",
    "ItemKind",
    "Mistake",
    "QuizPlan",
    "QuizResult",
    "Scenario",
    "Tally",
    "default_plan",
    "generate",
    "guess_chance",
    "is_critical",
    "outcome",
    "scenario_topic",
    "score",
]
