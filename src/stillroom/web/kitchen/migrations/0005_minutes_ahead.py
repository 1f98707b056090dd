"""How far an invented household lives ahead of us, in minutes: it is loaded on its first morning."""

from typing import Any

from django.db import migrations, models

DAY_MIN = 24 * 60


def into_minutes(apps: Any, schema_editor: Any) -> None:
    """Days were counted before."""
    apps.get_model("kitchen", "Household").objects.update(minutes_ahead=models.F("minutes_ahead") * DAY_MIN)


def into_days(apps: Any, schema_editor: Any) -> None:
    """Back to whole days."""
    apps.get_model("kitchen", "Household").objects.update(minutes_ahead=models.F("minutes_ahead") / DAY_MIN)


class Migration(migrations.Migration):
    dependencies = [
        ("kitchen", "0004_a_meal_on_one_day"),
    ]

    operations = [
        migrations.RenameField("household", "days_ahead", "minutes_ahead"),
        migrations.RunPython(into_minutes, into_days),
    ]
