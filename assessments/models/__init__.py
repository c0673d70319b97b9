from assessments.models.learning import CardMark, Memory, Reading
from assessments.models.practical import (
    MeasuredPours,
    PaceCheck,
    PourCheck,
    SpotMark,
    WatchedRound,
)
from assessments.models.quiz import Answer, Item, Quiz, QuizResult
from assessments.models.ready import ReadyRow
from assessments.models.sheet import Drill, DrillFor, QuizSheet, SheetModule, TryOut
from assessments.models.shift import Habit, ShiftAhead
from assessments.models.watch import MadeInstead, SignOff, Void, WatchedBuild

__all__ = [
    "Answer",
    "CardMark",
    "Drill",
    "DrillFor",
    "Habit",
    "Item",
    "MadeInstead",
    "MeasuredPours",
    "Memory",
    "PaceCheck",
    "PourCheck",
    "Quiz",
    "QuizResult",
    "QuizSheet",
    "Reading",
    "ReadyRow",
    "SheetModule",
    "ShiftAhead",
    "SignOff",
    "SpotMark",
    "TryOut",
    "Void",
    "WatchedBuild",
    "WatchedRound",
]
