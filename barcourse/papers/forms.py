from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

REASON_LENGTH = 500


class RevokeForm(forms.Form):
    reason = forms.CharField(
        label=_("Why?"),
        help_text=_("For the house's own record. It never shows on the paper or to whoever scans."),
        max_length=REASON_LENGTH,
        widget=forms.Textarea(attrs={"rows": 3}),
    )
