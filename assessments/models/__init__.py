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
from assessments.models.sales import CallMapping, OrdersByHour, SalesLine, SalesMix
from assessments.models.sheet import Drill, DrillFor, QuizSheet, SheetModule, TryOut
from assessments.models.shift import Habit, ShiftAhead
from assessments.models.watch import MadeInstead, SignOff, Void, WatchedBuild

__all__ = [
    "Answer",
    "CallMapping",
    "CardMark",
    "Drill",
    "DrillFor",
    "Habit",
    "Item",
    "MadeInstead",
    "MeasuredPours",
    "Memory",
    "OrdersByHour",
    "PaceCheck",
    "PourCheck",
    "Quiz",
    "QuizResult",
    "QuizSheet",
    "Reading",
    "ReadyRow",
    "SalesLine",
    "SalesMix",
    "SheetModule",
    "ShiftAhead",
    "SignOff",
    "SpotMark",
    "TryOut",
    "Void",
    "WatchedBuild",
    "WatchedRound",
]
