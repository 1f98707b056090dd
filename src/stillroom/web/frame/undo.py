"""Changes that can be taken back: every row is remembered as it stood before and after."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.core import serializers
from django.core.serializers.json import DjangoJSONEncoder
from django.db import IntegrityError, models, transaction

from stillroom.errors import InputError
from stillroom.web.frame.models import Change, ChangedRow
from stillroom.web.frame.once import who

Row = dict[str, Any]
Counted = tuple[models.Model, Mapping[str, int]]  # a row, and what is added to its numbers


@transaction.atomic
def keep(
    said: str,
    *rows: models.Model,
    at: datetime,
    about: models.Model | None = None,
    gone: Sequence[models.Model] = (),
    counted: Sequence[Counted] = (),
) -> Change:
    """Saves `rows`, deletes those `gone`, and remembers both under the words `said` so that `undo` can take it back.

    `about` is the row whose history this belongs to; the first row if it is left out. What is `counted` is added to
    numbers that many changes share, like empty jars: each can be taken back, whatever was counted since.
    """
    before = [_stored(row) for row in rows]
    for row in rows:
        row.save()
    subject = about or (*rows, *gone)[0]
    change = Change.objects.create(said=said, subject=_name(subject), at=at, by=who.get())
    for row, was in zip(rows, before, strict=True):
        ChangedRow.objects.create(change=change, row=_name(row), before=was, after=_stored(row))
    for row in gone:
        ChangedRow.objects.create(change=change, row=_name(row), before=_stored(row), after=None)
        row.delete()
    for row, added in counted:
        ChangedRow.objects.create(change=change, row=_name(row), added=_add(_name(row), added))
    return change


@transaction.atomic
def undo(change: Change, *, at: datetime) -> None:
    """Puts every row back as it stood; InputError when one has been changed since. Twice is as once."""
    change = Change.objects.select_for_update().get(pk=change.pk)
    if change.undone_at is not None:
        return
    touched = list(change.rows.filter(added__isnull=True))
    names = [row.row for row in touched]
    later = Change.objects.filter(pk__gt=change.pk, undone_at=None)
    whole = models.Q(rows__row__in=names, rows__added__isnull=True)
    is_built_on = later.filter(models.Q(subject__in=names) | whole).exists()
    for row in touched:
        if is_built_on or not _stands(row):
            raise InputError(f"“{change.said}” can't be taken back: something was changed after it; undo that first.")
    try:
        with transaction.atomic():
            for row in reversed(touched):
                _put_back(row)
    except IntegrityError:
        raise InputError(f"“{change.said}” can't be taken back: the same stands there again, made anew.") from None
    for row in change.rows.filter(added__isnull=False):
        _add(row.row, {field: -number for field, number in row.added.items()})
    change.undone_at = at
    change.save()


def history(row: models.Model) -> models.QuerySet[Change]:
    """What was done with this row, the latest first."""
    name = _name(row)
    return Change.objects.filter(models.Q(subject=name) | models.Q(rows__row=name)).distinct()


def touched_since(model: type[models.Model], since: datetime) -> Iterator[Row]:
    """Every row of a model that a change saved or took out since, or that was put back, as it stood once."""
    changes = Change.objects.filter(models.Q(at__gte=since) | models.Q(undone_at__gte=since))
    rows = ChangedRow.objects.filter(change__in=changes, row__startswith=f"{model._meta.label_lower}:")
    return (after or before for before, after in rows.values_list("before", "after") if after or before)


def _stands(row: ChangedRow) -> bool:
    """Whether what the change did is still so; fields that it left alone may have changed."""
    now = _now(row.row)
    if now is None or row.after is None or row.before is None:
        return now == row.after
    return all(now["fields"][field] == row.after["fields"][field] for field in _changed(row.before, row.after))


def _put_back(row: ChangedRow) -> None:
    if row.before is None:
        model, key = _parts(row.row)
        model._default_manager.filter(pk=key).delete()
        return
    back = row.before
    if (now := _now(row.row)) is not None and row.after is not None:
        was = {field: row.before["fields"][field] for field in _changed(row.before, row.after)}
        back = now | {"fields": now["fields"] | was}
    for kept in serializers.deserialize("python", [back]):
        kept.save()


def _add(name: str, added: Mapping[str, int]) -> dict[str, int]:
    """What was really added to the numbers of a row: none falls below 0, and a row that is gone has none."""
    model, key = _parts(name)
    row = model._default_manager.select_for_update().filter(pk=key).first()
    if row is None:
        return {}
    before = {field: getattr(row, field) for field in added}
    for field, number in added.items():
        setattr(row, field, max(0, before[field] + number))
    row.save(update_fields=list(added))
    return {field: getattr(row, field) - before[field] for field in added}


def _changed(before: Row, after: Row) -> list[str]:
    return [field for field, value in before["fields"].items() if after["fields"].get(field) != value]


def _now(name: str) -> Row | None:
    model, key = _parts(name)
    found = model._default_manager.filter(pk=key).first()
    return _as_json(found) if found else None


def _stored(row: models.Model) -> Row | None:
    return _now(_name(row)) if row.pk else None


def _as_json(row: models.Model) -> Row:
    plain: Row = json.loads(json.dumps(serializers.serialize("python", [row])[0], cls=DjangoJSONEncoder))
    return plain


def _name(row: models.Model) -> str:
    return f"{row._meta.label_lower}:{row.pk}"


def _parts(name: str) -> tuple[type[models.Model], int]:
    from django.apps import apps

    label, _, key = name.partition(":")
    return apps.get_model(label), int(key)
