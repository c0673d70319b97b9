"""A glass of which only the size was said may be one more of the drink before it: a madras and a
double, a double madras."""

from __future__ import annotations

from django.utils.translation import gettext as _

from recipes.grammar.calls import About, AskKind, Question, Reading
from recipes.grammar.calls.answering import answered
from recipes.grammar.calls.placeholder import opening
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.off_tonight import Tonight
from recipes.words_hearing import change_words, choice_words

MOST_READ = 40
"""Places tried for the drink's name; in a call at a bar one of the first is right."""
LONGEST = 400
"""Letters of a call up to which it is offered, so that a page comes as quickly as ever."""


def one_more(
    reading: Reading, at: int, menu: Menu, tonight: Tonight | None
) -> tuple[str, str] | None:
    """How it is offered, and the call with it; None where the drink before isn't known, isn't
    served so, or is offered anyway."""
    if not at or len(reading.heard) > LONGEST or opening(reading.drinks[at]) is None:
        return None
    before = reading.drinks[at - 1]
    again = before.recipe or before.name
    unsure = any(q.kind is AskKind.IDENTITY for q in reading.asks_about(at - 1))
    offered = {c for q in reading.asks_about(at) for c in q.choices}
    if before.spec is None or unsure or again in offered:
        return None
    name, asked = choice_words(again, About.DRINK, menu), Question(at, About.DRINK, (again,))
    call = answered(
        reading, asked, again, (name,), lambda said: hear_on(said, menu, tonight), most=MOST_READ
    )
    if call is None:
        return None
    drink = hear_on(call, menu, tonight).drinks[at]
    served = [change_words(c, menu) for c in drink.changes]
    return ", ".join([_("another %(drink)s") % {"drink": name}, *served]), call
