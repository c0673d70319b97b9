"""Why a change to the house book was refused, in words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django import forms
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

from barcourse.people.reasons import Reason, Refused

EDITING: dict[str, str | Promise] = {
    "name_taken_by_drink": lazy(
        "“%(said)s” can't mean %(mine)s: the drink %(owner)s is called that already. "
        "One name, one thing."
    ),
    "name_taken_by_ingredient": lazy(
        "“%(said)s” can't mean %(mine)s: the ingredient %(owner)s is called that already. "
        "One name, one thing."
    ),
    "name_taken_by_pattern": lazy(
        "“%(said)s” can't mean %(mine)s: “%(owner)s” is a pattern in the house rules, a word that "
        "makes a drink of any base. One name, one thing."
    ),
    "name_taken_by_serving": lazy(
        "“%(said)s” can't mean %(mine)s: “%(owner)s” says how much in the house rules. "
        "One name, one thing."
    ),
    "name_taken_by_slang": lazy(
        "“%(said)s” can't mean %(mine)s: “%(owner)s” means %(means)s in the house rules' list of "
        "words. One name, one thing."
    ),
    "name_is_a_call": lazy(
        "“%(said)s” can't be another name of %(mine)s: the house already understands it as "
        "%(means)s, with what is said beside it."
    ),
    "name_is_a_kind": lazy(
        "“%(said)s” can't mean %(mine)s: guests mean any of that kind by it. One name, one thing."
    ),
    "name_is_a_way": lazy(
        "“%(said)s” can't mean %(mine)s: guests say that of any drink, for how many, how much or "
        "how it is served. One name, one thing."
    ),
    "name_unspeakable": lazy("“%(said)s” has no letter and no digit in it."),
    "retires_in_the_past": lazy("That moment has passed. Choose a later one, or leave it empty."),
    "already_retired": lazy("%(drink)s has left the menu already."),
    "not_retired": lazy("%(drink)s has not been retired, so there is nothing to bring back."),
    "not_waiting": lazy("Number %(number)s of %(drink)s isn't waiting, so it can't be taken back."),
    "nothing_to_go_back_to": lazy(
        "%(drink)s has no earlier build to go back to. Retire the drink, or change the build."
    ),
    "last_on_the_menu": lazy(
        "%(drink)s is the last drink on the menu. Put another one on it first."
    ),
    "not_an_allergen": lazy("“%(said)s” is none of the allergens on the legal lists."),
    "ingredient_in_use": lazy(
        "%(item)s can't go while these need it: %(drinks)s. Change or retire their builds first."
    ),
    "bottle_of_nothing": lazy(
        "The house doesn't stock %(of)s, so %(item)s can't be a bottle of it."
    ),
    "bottle_of_another_kind": lazy(
        "%(of)s is of another kind than %(item)s, so this can't be a bottle of it."
    ),
    "bottle_of_a_bottle": lazy(
        "%(item)s can't be a bottle of %(of)s: one of the two is a bottle of something already, or "
        "has bottles. Choose what recipes speak of, like gin."
    ),
    "bottle_of_itself": lazy("%(item)s can't be a bottle of itself."),
    "bottles_of_it": lazy(
        "These are bottles of %(item)s: %(bottles)s. Say first what else they are bottles of."
    ),
    "step_without_like": lazy(
        "Say what %(item)s is a bottle of: a step above the house pour is above something."
    ),
    "ingredient_in_rules": lazy("%(item)s can't go while a house rule speaks of it."),
    "too_few_choices": lazy("At least %(fewest)s answers, or there is nothing to choose."),
    "too_many_choices": lazy("At most %(most)s answers: more than that nobody reads at a bar."),
    "choice_twice": lazy("Two answers say the same, so nobody could tell which is right."),
    "no_such_choice": lazy("There are only %(choices)s answers. Say which of them is right."),
    "last_of_a_gate": lazy(
        "%(module)s is needed by everybody before they are ready, and this would leave nothing to "
        "ask about it. Write another question first."
    ),
    "ingredient_on_record": lazy(
        "%(item)s stays: builds or rules on record have it, and they must stay readable."
    ),
}
"""Words for the codes of `naming` and of the `publish_*` modules that raise `Refused`."""


def say(reason: Reason) -> str:
    return str(EDITING[reason.code]) % dict(reason.params)


@contextmanager
def beside(form: forms.BaseForm) -> Iterator[None]:
    """A refusal inside goes into the form, beside its field, and the block ends there."""
    try:
        yield
    except Refused as no:
        form.add_error(no.field if no.field in form.fields else None, say(no.reason))
