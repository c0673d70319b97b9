"""`{{ quantity|counted }}`: a count of sales, said alike everywhere."""

from __future__ import annotations

from decimal import Decimal

from django import template

from assessments.sales_words import amount

register = template.Library()


@register.filter
def counted(n: Decimal | float) -> str:
    return amount(n)
