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
    TAKES_SEVERAL,
    WHOLE_DRINK,
    BuildPart,
    Choice,
    Given,
    ItemAsked,
    ItemKind,
    Scenario,
    guess_chance,
)
from assessments.measures.quiz.one import marks_shown, scenario_topic
from assessments.measures.quiz.scoring import (
    Mistake,
    QuizResult,
    Tally,
    credit,
    mixed_up_with,
    outcome,
    part_outcomes,
    refuse_stray,
    score,
    shows,
)
from assessments.measures.quiz.writing import House, generate, how_many

__all__ = [
    "ASK",
    "DEFAULT_MIX",
    "PASS_MARK",
    "TAKES_SEVERAL",
    "WHOLE_DRINK",
    "BuildPart",
    "Choice",
    "Given",
    "House",
    "ItemAsked",
    "ItemKind",
    "Mistake",
    "QuizPlan",
    "QuizResult",
    "Scenario",
    "Tally",
    "credit",
    "default_plan",
    "generate",
    "guess_chance",
    "how_many",
    "is_critical",
    "marks_shown",
    "mixed_up_with",
    "outcome",
    "part_outcomes",
    "refuse_stray",
    "scenario_topic",
    "score",
    "shows",
]
