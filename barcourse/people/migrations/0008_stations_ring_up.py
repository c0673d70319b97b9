from django.db import migrations, models
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps


def from_the_floor(apps: StateApps, editor: BaseDatabaseSchemaEditor) -> None:
    """As a new house begins: tickets reach the service bar from the floor, the bar back none."""
    stations = apps.get_model("people", "Station").objects
    stations.filter(models.Q(slug="service-bar") | models.Q(takes_orders=False)).update(
        rings_up=False
    )


class Migration(migrations.Migration):
    dependencies = [
        ("people", "0007_study_is_paid"),
    ]

    operations = [
        migrations.AddField(
            model_name="station",
            name="rings_up",
            field=models.BooleanField(default=True, verbose_name="rings up"),
        ),
        migrations.RunPython(from_the_floor, migrations.RunPython.noop),
    ]
