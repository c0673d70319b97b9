from assessments.models.calls import Call, CallAnswer, CallMark, CallResult, CallRun
from assessments.models.entries import Answered, AnswerSettled
from assessments.models.hook import Hook
from assessments.models.learning import CardMark, Memory, Reading, ReadingTime
from assessments.models.open_watch import OpenWatch
from assessments.models.own_record import OwnRecord
from assessments.models.policy import Override, OverrideEnd, PolicyVersion
from assessments.models.pour_policy import HousePourPolicy
from assessments.models.practical import (
    MeasuredPours,
    PaceCheck,
    PourCheck,
    SpotMark,
    WatchedRound,
)
from assessments.models.quiz import Answer, Item, Quiz, QuizResult
from assessments.models.ready import ReadyRow
from assessments.models.sales import (
    CallMapping,
    OrdersByHour,
    SalesDay,
    SalesLine,
    SalesMix,
    SalesReceipts,
)
from assessments.models.second_look import (
    HandedOver,
    MarksSeen,
    PlanDecided,
    Reply,
    SecondMark,
    Settled,
)
from assessments.models.sheet import Drill, DrillFor, QuizSheet, SheetModule, TryOut
from assessments.models.shift import Habit, ShiftAhead
from assessments.models.taken_back import TakenBack
from assessments.models.watch import MadeInstead, SignOff, Void, WatchedBuild

__all__ = [
    "Answer",
    "AnswerSettled",
    "Answered",
    "Call",
    "CallAnswer",
    "CallMapping",
    "CallMark",
    "CallResult",
    "CallRun",
    "CardMark",
    "Drill",
    "DrillFor",
    "Habit",
    "HandedOver",
    "Hook",
    "HousePourPolicy",
    "Item",
    "MadeInstead",
    "MarksSeen",
    "MeasuredPours",
    "Memory",
    "OpenWatch",
    "OrdersByHour",
    "Override",
    "OverrideEnd",
    "OwnRecord",
    "PaceCheck",
    "PlanDecided",
    "PolicyVersion",
    "PourCheck",
    "Quiz",
    "QuizResult",
    "QuizSheet",
    "Reading",
    "ReadingTime",
    "ReadyRow",
    "Reply",
    "SalesDay",
    "SalesLine",
    "SalesMix",
    "SalesReceipts",
    "SecondMark",
    "Settled",
    "SheetModule",
    "ShiftAhead",
    "SignOff",
    "SpotMark",
    "TakenBack",
    "TryOut",
    "Void",
    "WatchedBuild",
    "WatchedRound",
]
