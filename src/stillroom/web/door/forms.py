"""The forms at the door."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib.auth.password_validation import validate_password


class _Secret(forms.CharField):
    """A line that is not shown while it is typed, taken as it is, blanks included."""

    def __init__(self, *, of_now: bool = True, **rest: Any) -> None:
        hint = "current-password" if of_now else "new-password"
        widget = forms.PasswordInput(attrs={"autocomplete": hint})
        super().__init__(widget=widget, strip=False, max_length=200, **rest)


class SignInForm(forms.Form):
    """Name and password of a member."""

    name = forms.CharField(label="Your name", max_length=40, widget=forms.TextInput(attrs={"autocomplete": "username"}))
    password = _Secret(label="Your password")


class JoinForm(forms.Form):
    """The household's passphrase, and a name and password of one's own."""

    passphrase = _Secret(label="The household's passphrase", help_text="Whoever set it up can tell you.")
    name = forms.CharField(label="Your name", max_length=40, widget=forms.TextInput(attrs={"autocomplete": "username"}))
    password = _Secret(label="A password of your own", help_text="At least ten letters.", of_now=False)

    def clean_password(self) -> str:
        """Refuses what is short, common or only digits."""
        password: str = self.cleaned_data["password"]
        validate_password(password)
        return password


class PassphraseForm(forms.Form):
    """A new passphrase; from another device the old one is asked for."""

    old = _Secret(label="The passphrase as it is now")
    new = _Secret(label="The new passphrase", help_text="At least 12 letters; four or five words.", of_now=False)

    def __init__(self, *args: Any, asks_old: bool, **rest: Any) -> None:
        super().__init__(*args, **rest)
        if not asks_old:
            del self.fields["old"]
