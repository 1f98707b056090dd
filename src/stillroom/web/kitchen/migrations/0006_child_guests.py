"""Children who are guests at a meal, by their ages."""

from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("kitchen", "0005_minutes_ahead"),
    ]

    operations = [
        migrations.AddField("mealday", "child_guests", models.JSONField(blank=True, default=list)),
    ]
