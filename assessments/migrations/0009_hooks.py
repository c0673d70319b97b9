import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("assessments", "0008_calls_practised"),
        ("people", "0007_study_is_paid"),
        ("recipes", "0002_house_book"),
    ]

    operations = [
        migrations.CreateModel(
            name="Hook",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("text_code", models.CharField(max_length=20)),
                ("is_shared", models.BooleanField(default=False)),
                ("at", models.DateTimeField()),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="hooks",
                        to="people.membership",
                    ),
                ),
                (
                    "recipe",
                    models.ForeignKey(
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
                "constraints": [
                    models.UniqueConstraint(fields=("by", "recipe"), name="one_hook_a_drink")
                ],
            },
        ),
    ]
