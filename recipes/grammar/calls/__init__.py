"""What guests say, turned into builds: `read(text, vocabulary(...))`."""

from recipes.grammar.calls.reading import (
    About,
    AskKind,
    CalledDrink,
    Change,
    Question,
    ReadAs,
    Reading,
    Status,
    What,
)

__all__ = [
    "About",
    "AskKind",
    "CalledDrink",
    "Change",
    "Question",
    "ReadAs",
    "Reading",
    "Status",
    "What",
]
