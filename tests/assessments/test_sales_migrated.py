"""Sales that were taken in before lines had days."""

import datetime as dt
import importlib

from django.apps import apps

from assessments.models import SalesDay, SalesLine, SalesMix
from tests.factories.tills import rows, take_in

tell_days = importlib.import_module("assessments.migrations.0014_days_of_sales_so_far").tell_days


def as_before():
    SalesDay.objects.all().delete()
    SalesLine.objects.update(day=None)
    SalesMix.objects.update(days_kept=True, instead=False)


def test_one_day_is_known_several_are_not_and_none_are_none(marek):
    one = take_in(marek, "item,qty,date\nMadras,3,2026-03-06\n")
    two = take_in(marek, "item,qty,date\nMadras,3,2026-03-04\nBeer,1,2026-03-05\n")
    none = take_in(marek, rows("Madras,3"))
    as_before()
    tell_days(apps, None)

    day = dt.date(2026, 3, 6)
    found = {d.mix_id: (d.day, d.quantity) for d in SalesDay.objects.all()}
    assert found == {one.pk: (day, 3), two.pk: (None, 4), none.pk: (None, 3)}
    kept = dict(SalesMix.objects.values_list("pk", "days_kept"))
    assert kept == {one.pk: True, two.pk: False, none.pk: True}
    assert set(SalesLine.objects.filter(mix=one).values_list("day", flat=True)) == {day}
    assert all(SalesMix.objects.values_list("instead", flat=True))
