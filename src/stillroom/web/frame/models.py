"""Forms that were sent, and changes that can be taken back."""

from __future__ import annotations

from django.db import models


class SentForm(models.Model):
    """A form that has been acted on; the same form sent again is not acted on twice."""

    token = models.CharField(max_length=64, unique=True)
    at = models.DateTimeField(auto_now_add=True, db_index=True)


class Change(models.Model):
    """One thing a person did, in words, with the rows it touched: enough to take it back."""

    said = models.CharField(max_length=300)
    subject = models.CharField(max_length=80, db_index=True)  # "arrivals.arrival:12", whose history it belongs to
    at = models.DateTimeField(db_index=True)
    by = models.CharField(max_length=40, default="")  # the member; empty where nobody signs in
    undone_at = models.DateTimeField(null=True, db_index=True)

    class Meta:
        ordering = ("-at", "-pk")


class ChangedRow(models.Model):
    """One row as it stood before a change and after it; `before` is empty for a new row, `after` for one taken out.

    Of numbers that many changes share only what was `added` to each is kept.
    """

    change = models.ForeignKey(Change, on_delete=models.CASCADE, related_name="rows")
    row = models.CharField(max_length=80, db_index=True)  # "arrivals.arrival:12"
    before = models.JSONField(null=True)
    after = models.JSONField(null=True)
    added = models.JSONField(null=True)

    class Meta:
        ordering = ("pk",)
