"""The page of one's account: what signs in, where one is signed in, where a link is sent."""

from uuid import UUID

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core import signing
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from config.languages import said_later, say, spoken_to
from config.sessions import kept_key
from jobs.models import OpenSession, Person
from jobs.requests import SignedIn
from jobs.services.factors import codes_left, passkeys_of, phone_on
from jobs.services.people import mail_set
from jobs.services.sessions import session_end, sessions_end, sessions_open
from pages.account import account_messages as words
from pages.account.devices import device_of
from pages.account.limits import allowed
from pages.account.mails import letter
from pages.refusals import refuse, valid
from pages.responses import attempt, render_in

SALT, GOOD_FOR = "pages.account.mail", 24 * 60 * 60  # seconds


class MailForm(forms.Form):
    """Where a link for a lost password is sent."""

    email = forms.EmailField(max_length=254, label=said_later(words.EMAIL()))


@never_cache
@login_required
@require_GET
def account(request: SignedIn) -> HttpResponse:
    """Everything that opens one's account."""
    person = request.user
    here = kept_key(request.session.session_key)
    sessions = sessions_open(person)
    lines = []
    for each in sessions:
        lines.append((each, each.digest == here, device_of(each.browser)))
    context = {
        "sessions": lines,
        "others": any(each.digest != here for each in sessions),
        "passkeys": passkeys_of(person),
        "phone": phone_on(person),
        "left": codes_left(person),
        "password": person.has_usable_password(),
        "form": MailForm(initial={"email": person.email}),
    }
    return render_in(request, None, "account/account.html", context)


@require_POST
def end_session(request: SignedIn, session_id: UUID) -> HttpResponse:
    """End one of one's sessions."""
    try:
        session_end(request.user, session_id=session_id)
    except OpenSession.DoesNotExist:
        raise Http404 from None
    return redirect("account")


@require_POST
def end_others(request: SignedIn) -> HttpResponse:
    """End every session but this."""
    sessions_end(request.user, but=kept_key(request.session.session_key) or "")
    messages.success(request, say(words.ELSEWHERE_OUT()))
    return redirect("account")


@require_POST
def mail(request: SignedIn) -> HttpResponse:
    """Send a link to an address; opening it keeps the address."""
    given = valid(request, MailForm(request.POST))
    if given is None:
        return redirect("account")
    if not allowed(request, "mail", request.user.username):
        refuse(request, words.TOO_MANY_TRIES(), status=429)
        return redirect("account")
    person, address = request.user, given["email"]
    token = signing.dumps(
        {"person": str(person.pk), "mail": address, "was": person.email}, salt=SALT
    )
    link = settings.SITE_URL + reverse("mail-kept", args=[token])
    with spoken_to(person.language, person.units):
        text = render_to_string("account/mail_kept.txt", {"person": person, "link": link})
        letter(address, say(words.MAIL_SUBJECT()), text).send()
    messages.success(request, say(words.MAIL_SENT(address=address)))
    return redirect("account")


@never_cache
@require_http_methods(["GET", "POST"])
def mail_kept(request: HttpRequest, token: str) -> HttpResponse:
    """Keep the address that a link was sent to, once a button says so."""
    try:
        kept = signing.loads(token, salt=SALT, max_age=GOOD_FOR)
        person = Person.objects.get(pk=kept["person"], email=kept["was"], is_active=True)
    except (signing.BadSignature, Person.DoesNotExist):
        return render(
            request,
            "account/over.html",
            {"why": words.LINK_OVER()},
            status=410,
        )
    if request.method == "POST":
        attempt(request, mail_set, person=person, address=kept["mail"])
        return render(request, "account/mail_is_kept.html", {"address": kept["mail"]})
    return render(request, "account/mail_keep.html", {"address": kept["mail"], "person": person})
