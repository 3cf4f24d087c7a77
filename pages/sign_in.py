"""Sign-in: name and password, then, for whoever turned it on, a code of a second factor."""

from datetime import timedelta
from hmac import compare_digest
from typing import Any

from django.conf import settings
from django.contrib.auth import login
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.views import LoginView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from jobs.models import Person
from jobs.services import TooManyTries, factor_check, factor_live
from pages.refused import refuse

HALF = "half signed in"
"""What the session keeps of somebody whose password was right and whose code is still to come."""
GOOD_FOR = timedelta(minutes=10)


class SignIn(LoginView):
    """Name and password. Whoever has a second factor is not signed in by these alone."""

    template_name = "sign_in.html"

    def form_invalid(self, form: AuthenticationForm) -> HttpResponse:
        """The page again, with the name; one sentence whatever was wrong."""
        refuse(self.request, "That name and password do not go together.")
        return super().form_invalid(form)

    def form_valid(self, form: AuthenticationForm) -> HttpResponse:
        """Sign in, or ask for a code next."""
        person = form.get_user()
        if factor_live(person) is None:
            self.request.session.pop(HALF, None)
            return super().form_valid(form)
        self.request.session.cycle_key()
        self.request.session[HALF] = {
            "person": str(person.pk),
            "backend": person.backend,
            "password": person.get_session_auth_hash(),
            "at": timezone.now().timestamp(),
            "next": self.get_success_url(),
        }
        return redirect("sign-in-code")


@never_cache
@sensitive_post_parameters("code")
@require_http_methods(["GET", "POST"])
def code(request: HttpRequest) -> HttpResponse:
    """The code of the phone, or one for its loss, from somebody whose password was right."""
    half: dict[str, Any] = request.session.get(HALF, {})
    person = _half_signed_in(half)
    if person is None:
        request.session.pop(HALF, None)
        return redirect(settings.LOGIN_URL)
    if request.method == "GET":
        return render(request, "sign_in_code.html")
    try:
        good = factor_check(person, code=request.POST.get("code", "")[:40])
    except TooManyTries:
        return render(request, "sign_in_later.html", status=429)
    if not good:
        wrong = "That code is not good, or was used already. Take the one that is shown now."
        refuse(request, wrong, at="code")
        return render(request, "sign_in_code.html")
    del request.session[HALF]
    login(request, person, backend=half["backend"])
    return redirect(half["next"])


def _half_signed_in(half: dict[str, Any]) -> Person | None:
    """Who it is, unless that was too long ago, or the password was changed since."""
    if not half or timezone.now().timestamp() - half["at"] > GOOD_FOR.total_seconds():
        return None
    person = Person.objects.filter(pk=half["person"], is_active=True).first()
    if person is None or factor_live(person) is None:
        return None
    return person if compare_digest(person.get_session_auth_hash(), half["password"]) else None
