"""Lists for a spreadsheet, and from one."""

from __future__ import annotations

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from stillroom.errors import InputError
from stillroom.web.exchange.lists import LISTS
from stillroom.web.exchange.read_lists import MOST_BYTES, read_in
from stillroom.web.frame.once import once
from stillroom.web.frame.pages import say, table_answer


class TableForm(forms.Form):
    """A table from a spreadsheet."""

    table = forms.FileField(
        label="A table (CSV)",
        widget=forms.FileInput(attrs={"accept": ".csv,text/csv"}),
        help_text="Commas, semicolons or tabs, in UTF-8; row 1 names the columns as the lists above do.",
    )

    def clean_table(self) -> object:
        """The file, unless it is far too large."""
        file = self.cleaned_data["table"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError("This file is too large for a list: is it the right one?")
        return file


@require_http_methods(["GET", "HEAD", "POST"])
def lists(request: HttpRequest) -> HttpResponse:
    """Every list to take away; a table to read in, all of it or nothing."""
    form = TableForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            with once(request) as is_first:
                if is_first:
                    data = form.cleaned_data["table"].read()
                    say(request, read_in(request.household, data, at=timezone.now()))
            return redirect("exchange:lists")
        except InputError as error:
            form.add_error("table", str(error).split("\n"))
    status = 422 if form.errors else 200
    return render(request, "exchange/lists.html", {"form": form, "lists": LISTS}, status=status)


@require_safe
def one_list(request: HttpRequest, name: str) -> HttpResponse:
    """One list as CSV."""
    found = LISTS.get(name)
    if found is None:
        raise Http404
    return table_answer(request, name, found.columns, found.rows(request.household))
