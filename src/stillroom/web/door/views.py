"""The pages at the door: sign in, join, who may come in."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate, login, logout
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from stillroom.errors import InputError
from stillroom.web.data_dir import data_dir
from stillroom.web.door import actions
from stillroom.web.door.certificates import AUTHORITY_FILE
from stillroom.web.door.forms import JoinForm, PassphraseForm, SignInForm
from stillroom.web.door.models import Member
from stillroom.web.door.throttle import PASSPHRASE, TooManyTries, check_tries, note_failed
from stillroom.web.frame.once import once

_GET_POST = ["GET", "HEAD", "POST"]


@require_safe
def index(request: HttpRequest) -> HttpResponse:
    """Who may come in."""
    context = {"members": Member.objects.filter(is_active=True), "has_passphrase": actions.has_passphrase()}
    return render(request, "door/index.html", context | {"is_open": settings.LAN, "form": _passphrase_form()})


@sensitive_post_parameters("password")
@require_http_methods(_GET_POST)
def sign_in(request: HttpRequest) -> HttpResponse:
    """Name and password of a member."""
    form, status = SignInForm(request.POST or None), 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            name = form.cleaned_data["name"].strip()
            try:
                check_tries(request, name, at=timezone.now())
            except TooManyTries as error:
                form.add_error(None, str(error))
                status = 429
            else:
                known = Member.objects.filter(name__iexact=name).first()
                given = known.name if known else name
                member = authenticate(request, username=given, password=form.cleaned_data["password"])
                if member is not None:
                    login(request, member)
                    return redirect(_wanted(request))
                note_failed(request, name, at=timezone.now())
                form.add_error(None, "This name and this password do not belong together; look at both.")
    return render(request, "door/sign_in.html", {"form": form, "next": _wanted(request)}, status=status)


@sensitive_post_parameters("passphrase", "password")
@require_http_methods(_GET_POST)
def join(request: HttpRequest) -> HttpResponse:
    """Become a member with the household's passphrase."""
    form, status = JoinForm(request.POST or None), 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            try:
                _prove(request, form.cleaned_data["passphrase"])
                name = form.cleaned_data["name"].strip()
                with once(request) as is_first:
                    member = actions.join(name, form.cleaned_data["password"], at=timezone.now()) if is_first else None
            except TooManyTries as error:
                form.add_error(None, str(error))
                status = 429
            except InputError as error:
                form.add_error(None, str(error))
            else:
                if member is not None:
                    login(request, member, backend="django.contrib.auth.backends.ModelBackend")
                return redirect("day:today")
    return render(request, "door/join.html", {"form": form}, status=status)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """Ends the session of this device."""
    logout(request)
    return redirect("day:today")


@sensitive_post_parameters("old", "new")
@require_POST
def passphrase(request: HttpRequest) -> HttpResponse:
    """A new passphrase; whoever asks from the open door proves that they know the old one."""
    form = _passphrase_form(request)
    if form.is_valid():
        try:
            if settings.LAN:
                _prove(request, form.cleaned_data["old"])
            actions.set_passphrase(form.cleaned_data["new"], at=timezone.now())
        except (InputError, TooManyTries) as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The passphrase is set. Whoever is a member stays one.")
            return redirect("door:index")
    context = {"members": Member.objects.filter(is_active=True), "has_passphrase": actions.has_passphrase()}
    return render(request, "door/index.html", context | {"is_open": settings.LAN, "form": form}, status=422)


@require_POST
def remove(request: HttpRequest, member_id: int) -> HttpResponse:
    """Shuts the door on a member; from the open door with the passphrase."""
    member = get_object_or_404(Member, pk=member_id, is_active=True)
    if settings.LAN:
        _prove(request, request.POST.get("passphrase", ""))
    actions.remove(member)
    messages.success(request, f"{member.name} does not come in any more.")
    return redirect("door:index")


@require_safe
def authority(request: HttpRequest) -> HttpResponse:
    """The certificate of our own authority, for devices that shall trust it. It is no secret."""
    file = data_dir() / AUTHORITY_FILE
    if not file.exists():
        raise Http404
    return HttpResponse(
        file.read_bytes(),
        content_type="application/x-x509-ca-cert",
        headers={"Content-Disposition": 'attachment; filename="stillroom-authority.crt"'},
    )


def _prove(request: HttpRequest, text: str) -> None:
    """InputError when this is not the passphrase; TooManyTries after too many guesses."""
    check_tries(request, PASSPHRASE, at=timezone.now())
    if not actions.is_passphrase(text):
        note_failed(request, PASSPHRASE, at=timezone.now())
        raise InputError("This is not the household's passphrase; ask whoever set it up.")


def _passphrase_form(request: HttpRequest | None = None) -> PassphraseForm:
    return PassphraseForm(request.POST if request else None, asks_old=settings.LAN and actions.has_passphrase())


def _wanted(request: HttpRequest) -> str:
    """The page that was asked for, of this site only."""
    wanted: str = request.POST.get("next") or request.GET.get("next") or "/"
    return wanted if url_has_allowed_host_and_scheme(wanted, allowed_hosts=None) else "/"
