"""The hooks that somebody sees on a drink."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.models import Hook
from barcourse.people.models import Membership, PersonalText
from recipes.kept import Kept, Stamp, stamp_of
from recipes.models import Recipe


@dataclass(frozen=True)
class HookShown:
    """`whose` is empty for one's own."""

    text: str
    whose: str
    is_shared: bool

    @property
    def said(self) -> str:
        if not self.whose:
            return _("Your hook: %(text)s") % {"text": self.text}
        return _("%(name)s's hook: %(text)s") % {"name": self.whose, "text": self.text}


def hooks_on(member: Membership, recipe: Recipe) -> tuple[HookShown, ...]:
    """Their own first, then what is shared with the house; erased ones left out."""
    if not (stamp := stamp_of(member.venue)):
        return _read(member, recipe)
    return _HOOKS.get((stamp, member.pk, recipe.pk), lambda: _read(member, recipe))


_HOOKS = Kept[tuple[Stamp, int, int], tuple[HookShown, ...]](most=2000)


def own_hook(member: Membership, recipe: Recipe) -> HookShown | None:
    return next((h for h in hooks_on(member, recipe) if not h.whose), None)


def _read(member: Membership, recipe: Recipe) -> tuple[HookShown, ...]:
    rows = list(Hook.objects.seen_by(member).on(recipe).select_related("by__person"))
    codes = [row.text_code for row in rows]
    words = dict(PersonalText.objects.filter(code__in=codes).values_list("code", "text"))
    return tuple(
        HookShown(text, "" if row.by_id == member.pk else row.by.name, row.is_shared)
        for row in rows
        if (text := words.get(row.text_code, ""))
    )
