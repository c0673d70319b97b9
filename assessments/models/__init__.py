from assessments.models.learning import CardMark, Memory, Reading
from assessments.models.quiz import Answer, Item, Quiz, QuizResult
from assessments.models.sheet import Drill, DrillFor, QuizSheet, SheetModule, TryOut
from assessments.models.watch import MadeInstead, SignOff, Void, WatchedBuild

__all__ = [
    "Answer",
    "CardMark",
    "Drill",
    "DrillFor",
    "Item",
    "MadeInstead",
    "Memory",
    "Quiz",
    "QuizResult",
    "QuizSheet",
    "Reading",
    "SheetModule",
    "SignOff",
    "TryOut",
    "Void",
    "WatchedBuild",
]
