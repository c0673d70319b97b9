"""What was taken in before lines had days: known where an export tells of one day or of none.

One of several days counts as a whole, and each took the place of what came without days before."""

from django.apps.registry import Apps
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor


def tell_days(apps: Apps, _editor: BaseDatabaseSchemaEditor) -> None:
    mixes = apps.get_model("assessments", "SalesMix").objects.order_by("pk")
    lines = apps.get_model("assessments", "SalesLine").objects
    days = apps.get_model("assessments", "SalesDay").objects
    for mix in mixes:
        known = mix.first_day if mix.first_day == mix.last_day else None
        lines.filter(mix=mix).update(day=known)
        days.create(
            venue_id=mix.venue_id, mix=mix, day=known, quantity=mix.quantity, orders=mix.orders
        )
        mix.days_kept, mix.instead = mix.first_day is None or known is not None, True
        mix.save(update_fields=["days_kept", "instead"])


class Migration(migrations.Migration):
    dependencies = [("assessments", "0013_sales_by_day")]

    operations = [migrations.RunPython(tell_days, migrations.RunPython.noop)]
