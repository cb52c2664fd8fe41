from typing import Any

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from decor.crew.access import helper_of
from decor.crew.login_forms import LoginForm, OwnPasswordForm
from decor.crew.logins import (
    LoginRefused,
    login_make,
    login_put_off,
    login_renew,
    password_is_own,
)
from decor.models import CrewMember

CREW_PAGE = "crew_list"
PASSWORD_SET = "Your new password is set."
PUT_OFF = "{name}’s login opens nothing any more."


@never_cache
@require_http_methods(["GET", "POST"])
def crew_login_new(request: HttpRequest, pk: int) -> HttpResponse:
    member = _member(pk)
    form = LoginForm(request.POST or None, back_url=reverse(CREW_PAGE))
    if request.method == "POST" and form.is_valid():
        try:
            password = login_make(member=member, username=form.cleaned_data["username"])
        except LoginRefused as refused:
            return _refused(request, refused)
        return _password_shown(request, member, password)
    status = 422 if form.is_bound else 200
    context = {"form": form, "member": member}
    return render(request, "decor/crew/login_new.html", context, status=status)


@never_cache
@require_http_methods(["GET", "POST"])
def crew_login_renew(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first: the password that the helper has stops working."""
    member = _member(pk)
    if request.method == "GET":
        return render(request, "decor/crew/login_renew.html", {"member": member})
    try:
        password = login_renew(member=member)
    except LoginRefused as refused:
        return _refused(request, refused)
    return _password_shown(request, member, password)


@require_http_methods(["GET", "POST"])
def crew_login_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first."""
    member = _member(pk)
    if request.method == "GET":
        return render(request, "decor/crew/login_off.html", {"member": member})
    try:
        login_put_off(member=member)
    except LoginRefused as refused:
        return _refused(request, refused)
    messages.success(request, PUT_OFF.format(name=member))
    return redirect(CREW_PAGE)


@sensitive_post_parameters()
@never_cache
@require_http_methods(["GET", "POST"])
def own_password(request: HttpRequest) -> HttpResponse:
    helper = helper_of(request)
    is_given = helper is not None and helper.password_is_given
    form = OwnPasswordForm(request.user, request.POST or None, is_given=is_given)
    if request.method == "POST" and form.is_valid():
        user = form.save()
        password_is_own(user)
        update_session_auth_hash(request, user)  # or this very login would end too
        messages.success(request, PASSWORD_SET)
        return redirect("home")
    context: dict[str, Any] = {"form": form, "is_given": is_given}
    status = 422 if form.is_bound else 200
    return render(request, "decor/crew/own_password.html", context, status=status)


def _member(pk: int) -> CrewMember:
    return get_object_or_404(CrewMember.objects.select_related("user"), pk=pk)


def _password_shown(request: HttpRequest, member: CrewMember, password: str) -> HttpResponse:
    """In the answer itself and not after a redirect: so it is kept nowhere."""
    member.refresh_from_db()
    context = {"member": member, "password": password}
    return render(request, "decor/crew/login_made.html", context)


def _refused(request: HttpRequest, refused: LoginRefused) -> HttpResponse:
    messages.warning(request, str(refused))
    return redirect(CREW_PAGE)
