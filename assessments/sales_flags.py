"""What a page asks with a tick before an export goes in, as flags of the command."""

from __future__ import annotations

from collections.abc import Collection

from django.utils.translation import gettext_lazy

from assessments.sales_counting import Counted
from assessments.sales_replacing import Replacing
from assessments.wording_refusals import say
from barcourse.people.reasons import Refused

_SAID = {
    "sales_tell_less": gettext_lazy(
        "An export taken in before tells hours or orders of these days and this file doesn't. "
        "Add --fewer where it takes the place of that all the same."
    ),
    "sales_twice": gettext_lazy(
        "An export taken in before goes on counting, and one of the two tells no days, so nobody "
        "can tell whether these are the same sales. Add --beside where they are others, --instead "
        "where this file takes the place of what came without days, --dry-run to look first."
    ),
    "sales_both_ways": gettext_lazy(
        "These are other sales, or they take the place of what came without days: it can't be "
        "both. Leave out --beside or --instead."
    ),
    "sales_below_zero": gettext_lazy(
        "More was taken off than sold. Add --sure where it is so, --dry-run to look first."
    ),
    "sales_beyond": gettext_lazy(
        "No bar sells so much of one thing. Add --sure where it is so, --dry-run to look first."
    ),
}


def why(bad: Refused) -> str:
    """In one line, with the flag that says it is so where there is one."""
    return str(_SAID.get(bad.reason.code) or say(bad.reason))


def needs(counted: Counted, replaces: Replacing, given: Collection[str] = ()) -> list[str]:
    """The flags without which it would be refused, but for those that were given."""
    wanted = {
        "fewer": replaces.tells_less and "instead" not in given,
        "beside": replaces.beside,
        "sure": counted.below_zero() or counted.beyond(),
    }
    return [f"--{flag}" for flag, asked in wanted.items() if asked and flag not in given]
