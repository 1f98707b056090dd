"""The household's passphrase, its members, and tries that failed."""

from __future__ import annotations

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models


class Passphrase(models.Model):
    """What a person must know to become a member; the last one set holds. Only its hash is kept."""

    hashed = models.CharField(max_length=200)
    set_at = models.DateTimeField(db_index=True)


class Members(BaseUserManager):
    """Members by their names."""


class Member(AbstractBaseUser):
    """One who signs in from a device of the house; who left keeps the row and comes in no more."""

    name = models.CharField(max_length=40, unique=True)
    joined_at = models.DateTimeField()
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "name"
    objects = Members()

    class Meta:
        ordering = ("name",)

    def __str__(self) -> str:
        return self.name


class FailedTry(models.Model):
    """A wrong password or passphrase: from where, and for which name."""

    at = models.DateTimeField(db_index=True)
    address = models.CharField(max_length=60, db_index=True)
    name = models.CharField(max_length=40, db_index=True)
