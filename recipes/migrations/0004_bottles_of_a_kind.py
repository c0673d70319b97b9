from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("recipes", "0003_another_bottle"),
    ]

    operations = [
        migrations.AddField(
            model_name="ingredient",
            name="bottle_of",
            field=models.SlugField(
                blank=True, default="", max_length=60, verbose_name="a bottle of"
            ),
        ),
        migrations.AddField(
            model_name="ingredient",
            name="step",
            field=models.CharField(default="house", max_length=10, verbose_name="step"),
        ),
    ]
