import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("assessments", "0009_hooks"),
        ("people", "0008_stations_ring_up"),
    ]

    operations = [
        migrations.CreateModel(
            name="HousePourPolicy",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("least_pours", models.PositiveSmallIntegerField()),
                ("least_within", models.PositiveSmallIntegerField()),
                ("most_bias_ml", models.FloatField(blank=True, null=True)),
                ("at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="people.membership",
                    ),
                ),
                (
                    "venue",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pour_policies",
                        to="people.venue",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("venue", "number"), name="one_pour_policy_a_number"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            ("least_pours__range", (3, 20)), ("least_within__range", (50, 100))
                        ),
                        name="pour_policy_within_reason",
                    ),
                ],
            },
        ),
    ]
