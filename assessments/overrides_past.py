"""Every word that somebody was let stand on for one shift, long over or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override
from assessments.shifts import Shift
from barcourse.people.models import Membership, PersonalText


@dataclass(frozen=True)
class Given:
    """`reason` is empty where it was erased."""

    row: Override
    reason: str
    taken_back: bool

    @property
    def when(self) -> str:
        return Shift(self.row.day, ShiftKind(self.row.shift_kind)).when


def given_for(hire: Membership) -> Sequence[Given]:
    """The newest shift first; in two queries."""
    rows = list(Override.objects.of(hire).select_related("end"))
    texts = PersonalText.objects.filter(code__in=[row.reason_code for row in rows])
    words = dict(texts.values_list("code", "text"))
    return [Given(row, words.get(row.reason_code, ""), hasattr(row, "end")) for row in rows]
