from assessments.models.learning import CardMark, Memory, Reading
from assessments.models.quiz import Answer, Item, Quiz, QuizResult
from assessments.models.watch import SignOff, Void, WatchedBuild

__all__ = [
    "Answer",
    "CardMark",
    "Item",
    "Memory",
    "Quiz",
    "QuizResult",
    "Reading",
    "SignOff",
    "Void",
    "WatchedBuild",
]
