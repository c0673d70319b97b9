"""What is possible and yet hardly so: it is asked about once before it is sealed for good.

The limits are our own, wide enough that nothing of a real shift is asked about (no source): what
they catch is millilitres typed as fluid ounces, and a clock started as the last drink was put down.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import checklist
from assessments.measuring import fine_words
from recipes.grammar.house_spec import HouseSpec

TIMES = 4.0
"""A pour of more than four times what it was to be, or under a quarter of it."""
LEAST_S = 5
"""Nobody makes a drink in less, not even one of a round."""


def is_doubtful_pour(ml: float, target_ml: float) -> bool:
    return not target_ml / TIMES <= ml <= target_ml * TIMES


def is_doubtful_time(seconds: int | None, drinks: int) -> bool:
    return seconds is not None and seconds < LEAST_S * drinks


def of_pours(pours_ml: Iterable[float], target_ml: float, country: str) -> list[str]:
    return [
        _pour_words(ml, target_ml, country) for ml in pours_ml if is_doubtful_pour(ml, target_ml)
    ]


def of_measured(spec: HouseSpec, measured_ml: Mapping[str, float], country: str) -> list[str]:
    """Of pours measured in a build, by the keys of their steps."""
    return [
        words
        for key, part in checklist.measurable(spec).items()
        if key in measured_ml
        for words in of_pours([measured_ml[key]], part.ml or 0.0, country)
    ]


def of_time(seconds: int | None, drinks: int = 1) -> list[str]:
    if not is_doubtful_time(seconds, drinks):
        return []
    took = ngettext("%(n)s second", "%(n)s seconds", seconds or 0) % {"n": seconds}
    made = ngettext("%(n)s drink", "%(n)s drinks", drinks) % {"n": drinks}
    return [_("%(took)s for %(made)s?") % {"took": took, "made": made}]


def _pour_words(ml: float, target_ml: float, country: str) -> str:
    said = {"poured": fine_words(ml, country), "target": fine_words(target_ml, country)}
    return _("%(poured)s where %(target)s was to be poured?") % said


def in_words(doubts: Sequence[str]) -> str:
    """All of it in one line, each thing once; empty where nothing is doubtful."""
    if not doubts:
        return ""
    ending = _("It can't be changed later: look again, or say that it is so.")
    return " ".join([*dict.fromkeys(doubts), ending])
