"""What of a drink somebody knows otherwise, in a sentence: what it was, and what it is."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from assessments.measures.otherwise import Part
from recipes.wording import label


def from_to(part: Part, before: Sequence[str], after: Sequence[str], *, is_rule: bool) -> str:
    """`before` and `after` are the lines that differ."""
    said = {
        "part": label(part.aspect), "before": _(", ").join(before), "after": _(", ").join(after),
    }  # fmt: skip
    if is_rule and part.back:
        return (
            _("House rule, as before. %(part)s: for a while “%(before)s”, now again “%(after)s”.")
            % said
        )
    if is_rule:
        return _("House rule. %(part)s: it was “%(before)s”, now it is “%(after)s”.") % said
    if part.back:
        return _("As before. %(part)s: for a while “%(before)s”, now again “%(after)s”.") % said
    return _("%(part)s: it was “%(before)s”, now it is “%(after)s”.") % said
