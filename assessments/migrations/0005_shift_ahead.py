import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("assessments", "0004_what_is_known_packed"),
        ("people", "0002_legal_age"),
    ]

    operations = [
        migrations.CreateModel(
            name="Habit",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("times", models.JSONField(default=dict)),
                ("line", models.JSONField(default=dict)),
                (
                    "hire",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="habit",
                        to="people.membership",
                    ),
                ),
                (
                    "venue",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="people.venue",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="ShiftAhead",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("starts_at", models.DateTimeField()),
                ("minutes", models.PositiveSmallIntegerField()),
                (
                    "hire",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="shifts_ahead",
                        to="people.membership",
                    ),
                ),
                (
                    "said_by",
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
                        related_name="+",
                        to="people.venue",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(
                        fields=("hire", "starts_at"), name="one_shift_ahead_a_moment"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("minutes__gte", 1), ("minutes__lte", 60)),
                        name="shift_ahead_minutes_in_reason",
                    ),
                ],
            },
        ),
    ]
