import django.db.models.deletion
from django.db import migrations, models

import barcourse.people.codes


class Migration(migrations.Migration):
    dependencies = [
        ("assessments", "0007_second_look"),
        ("people", "0007_study_is_paid"),
        ("recipes", "0003_another_bottle"),
    ]

    operations = [
        migrations.CreateModel(
            name="Call",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("position", models.PositiveSmallIntegerField()),
                ("asked", models.JSONField()),
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
                "ordering": ("position",),
            },
        ),
        migrations.CreateModel(
            name="CallAnswer",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("said", models.JSONField()),
                (
                    "came",
                    models.CharField(
                        choices=[("right", "right"), ("ask", "would ask"), ("wrong", "wrong")],
                        max_length=5,
                    ),
                ),
                ("milliseconds", models.PositiveIntegerField(blank=True, null=True)),
                ("at", models.DateTimeField()),
                (
                    "call",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="answer",
                        to="assessments.call",
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
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="CallRun",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "code",
                    models.CharField(
                        default=barcourse.people.codes.new_code,
                        editable=False,
                        max_length=20,
                        unique=True,
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("single", "one drink at a time"),
                            ("round", "whole rounds"),
                            ("rush", "a rush of twenty"),
                        ],
                        max_length=6,
                    ),
                ),
                ("seed", models.BigIntegerField()),
                ("started_at", models.DateTimeField()),
                ("finished_at", models.DateTimeField(blank=True, null=True)),
                (
                    "hire",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="call_runs",
                        to="people.membership",
                    ),
                ),
                (
                    "rules_version",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="recipes.rulesversion",
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
            name="CallResult",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("right", models.PositiveSmallIntegerField()),
                ("would_ask", models.PositiveSmallIntegerField()),
                ("wrong", models.PositiveSmallIntegerField()),
                ("seconds", models.PositiveIntegerField(blank=True, null=True)),
                ("answers_digest", models.CharField(max_length=32)),
                ("at", models.DateTimeField()),
                (
                    "hire",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="call_results",
                        to="people.membership",
                    ),
                ),
                (
                    "venue",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="call_results",
                        to="people.venue",
                    ),
                ),
                (
                    "run",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="result",
                        to="assessments.callrun",
                    ),
                ),
            ],
            options={
                "abstract": False,
            },
        ),
        migrations.AddField(
            model_name="call",
            name="run",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="calls",
                to="assessments.callrun",
            ),
        ),
        migrations.CreateModel(
            name="CallMark",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                ("build", models.CharField(blank=True, max_length=32)),
                (
                    "came",
                    models.CharField(
                        choices=[("right", "right"), ("ask", "would ask"), ("wrong", "wrong")],
                        max_length=5,
                    ),
                ),
                ("ways", models.PositiveSmallIntegerField()),
                ("aspects", models.JSONField()),
                ("mixed_up_with", models.CharField(blank=True, max_length=80)),
                ("at", models.DateTimeField()),
                (
                    "answer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="marks",
                        to="assessments.callanswer",
                    ),
                ),
                (
                    "hire",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="call_marks",
                        to="people.membership",
                    ),
                ),
                (
                    "recipe",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="recipes.recipe",
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
                "indexes": [
                    models.Index(fields=["hire", "at"], name="assessments_hire_id_785d07_idx")
                ],
                "constraints": [
                    models.UniqueConstraint(
                        fields=("answer", "number"), name="one_mark_a_called_drink"
                    )
                ],
            },
        ),
        migrations.AddConstraint(
            model_name="callrun",
            constraint=models.UniqueConstraint(
                condition=models.Q(("finished_at__isnull", True)),
                fields=("hire", "kind"),
                name="one_open_run_a_kind",
            ),
        ),
        migrations.AddConstraint(
            model_name="call",
            constraint=models.UniqueConstraint(
                fields=("run", "position"), name="one_call_a_position"
            ),
        ),
    ]
