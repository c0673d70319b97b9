"""What guests say, turned into builds: `read(text, vocabulary(...))`."""

from recipes.grammar.calls.generate import GeneratedCall, generate
from recipes.grammar.calls.prepared import vocabulary
from recipes.grammar.calls.reader import read
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
from recipes.grammar.calls.vocabulary import Book

__all__ = [
    "About",
    "AskKind",
    "Book",
    "CalledDrink",
    "Change",
    "GeneratedCall",
    "Question",
    "ReadAs",
    "Reading",
    "Status",
    "What",
    "generate",
    "read",
    "vocabulary",
]
