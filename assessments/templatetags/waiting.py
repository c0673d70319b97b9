"""What a trainer has set for the one who looks: drills and a try-out."""

from __future__ import annotations

from dataclasses import dataclass

from django import template

from assessments.models import DrillFor, TryOut
from barcourse.people.models import Membership

register = template.Library()


@dataclass(frozen=True)
class Waiting:
    drills: list[DrillFor]
    try_out: TryOut | None

    def __bool__(self) -> bool:
        return bool(self.drills or self.try_out)


@register.simple_tag
def waiting_for(hire: Membership) -> Waiting:
    drills = DrillFor.objects.of(hire).to_do().select_related("drill__one", "drill__other")
    return Waiting(list(drills), TryOut.objects.of(hire).to_do().first())
