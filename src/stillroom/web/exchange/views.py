"""A household folder in and out, and the demo household."""

from __future__ import annotations

import re

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.errors import InputError
from stillroom.household.folder import warnings
from stillroom.web.exchange.demo import open_demo
from stillroom.web.exchange.folder import folder_of, zip_of
from stillroom.web.exchange.import_folder import MOST_BYTES, import_zip
from stillroom.web.frame.once import once
from stillroom.web.kitchen.models import Household


class ZipForm(forms.Form):
    """A household folder as a zip file."""

    folder = forms.FileField(
        label="Household folder (zip)",
        widget=forms.FileInput(attrs={"accept": ".zip,application/zip"}),
        help_text="With kitchen.yaml, household.yaml, arrivals.yaml and, where there are any, larder.yaml and recipes.",
    )

    def clean_folder(self) -> object:
        """The file, unless it is far too large."""
        file = self.cleaned_data["folder"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError("This file is too large for a household folder: is it the right one?")
        return file


@require_POST
def demo(request: HttpRequest) -> HttpResponse:
    """The invented household, on the first day of its week."""
    with once(request) as is_first:
        if is_first:
            household = open_demo()
            messages.success(request, f"{household.name} is open, invented.{_renamed(household)}")
    return redirect("day:today")


@require_http_methods(["GET", "HEAD", "POST"])
def bring_in(request: HttpRequest) -> HttpResponse:
    """A folder becomes a household of its own; the others stay as they are."""
    form = ZipForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            with once(request) as is_first:
                if is_first:
                    household = import_zip(form.cleaned_data["folder"])
                    messages.success(request, f"{household.name} is read in and open.{_renamed(household)}")
            return redirect("exchange:check")
        except InputError as error:
            form.add_error("folder", str(error))
    return render(request, "exchange/import.html", {"form": form}, status=422 if form.errors else 200)


def _renamed(household: Household) -> str:
    """That its name had to be another one, and where to change it."""
    wanted = household.name_wanted
    if household.name == wanted:
        return ""
    return (
        f" There is a household “{wanted}” here already, so this one has another name: see Kitchen, Place and height."
    )


@require_safe
def check(request: HttpRequest) -> HttpResponse:
    """What the planner understands of the household, and what looks wrong."""
    folder = folder_of(request.household)
    return render(request, "exchange/check.html", {"folder": folder, "cautions": warnings(folder)})


@require_safe
def take_away(request: HttpRequest) -> HttpResponse:
    """The open household as a zip file that reads in again."""
    household = request.household
    if household is None:
        return redirect("kitchen:begin")
    name = re.sub(r"[^a-z0-9]+", "-", household.name.lower()).strip("-") or "household"
    answer = HttpResponse(zip_of(household), content_type="application/zip")
    answer["Content-Disposition"] = f'attachment; filename="{name}-{household.today}.zip"'
    return answer
