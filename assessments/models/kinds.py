"""The kinds of entries in a hire's record, named as their links and addresses name them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from operator import or_

from django.db import models

from assessments.models.practical import PaceCheck, PourCheck, SpotMark, WatchedRound
from assessments.models.watch import WatchedBuild

OfHands = SpotMark | PourCheck | PaceCheck | WatchedRound
Entry = OfHands | WatchedBuild
KINDS: dict[str, type[Entry]] = {
    "spot": SpotMark,
    "pours": PourCheck,
    "pace": PaceCheck,
    "round": WatchedRound,
    "build": WatchedBuild,
}
"""All of them can be answered."""
OF_HANDS = tuple(kind for kind in KINDS if kind != "build")
"""Those are taken back; a build is voided."""


def kind_of(entry: Entry) -> str:
    return next(kind for kind, model in KINDS.items() if isinstance(entry, model))


def any_of(kinds: Iterable[str]) -> models.Q:
    """That a row links to one of these kinds at least."""
    return reduce(or_, (models.Q(**{f"{kind}__isnull": False}) for kind in kinds))
