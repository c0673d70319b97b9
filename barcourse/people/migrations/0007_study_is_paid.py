from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("people", "0006_side_work"),
    ]

    operations = [
        migrations.AddField(
            model_name="venue",
            name="study_is_paid",
            field=models.BooleanField(
                default=True, verbose_name="minutes spent on cards and quizzes are paid"
            ),
        ),
    ]
