"""A message that comes back pauses its address, whatever the report's form."""

import io
import sys
from email import message_from_string, policy
from types import SimpleNamespace

import pytest
from django.core.management import call_command

from config.languages import say
from inspections.services.settling import job_settle
from jobs.secrets import digest_of
from notifications.bounces import bounces
from notifications.channels.email import message_id
from notifications.models import Address, Channel, Delivery, Lane, State
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from tests.inspections.tiny import HOUSES

REPORT = """\
From: mailer@example.org
To: studbay@localhost
Content-Type: multipart/report; report-type=delivery-status; boundary="b"

--b
Content-Type: text/plain

It did not arrive.
--b
Content-Type: message/delivery-status

Reporting-MTA: dns; mx.example.org

Final-Recipient: rfc822; builder@example.org
Action: {action}
Status: 5.1.1
Diagnostic-Code: smtp; 550 no such mailbox
--b
Content-Type: {form}

Message-ID: {id}
Subject: Lot 15

--b--
"""


@pytest.fixture
def sent(shop, db, settings):
    """A message that was taken on, of a person with a second address."""
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    for target in ("builder@example.org", "second@example.org"):
        address_add(
            shop.office, person=shop.builder, shop=shop.shop, channel=Channel.EMAIL, target=target
        )
    area = shop.roughed_in(HOUSES["clean"]).areas.get(code="east")
    shop.release(area)
    job_settle(area.job_id)
    deliver(Lane.ORDINARY, Channel.EMAIL)
    return Delivery.objects.get(notices__reason="area released", person=shop.builder)


def report(identity: str, *, action: str = "failed", form: str = "text/rfc822-headers") -> str:
    return REPORT.format(id=identity, action=action, form=form)


@pytest.mark.parametrize("form", ["text/rfc822-headers", "message/rfc822"])
def test_what_came_back_pauses_the_address_and_goes_to_the_next(sent, monkeypatch, form) -> None:
    text = report(message_id(sent), form=form)
    monkeypatch.setattr(sys, "stdin", SimpleNamespace(buffer=io.BytesIO(text.encode())))
    out = io.StringIO()
    call_command("read_bounce", stdout=out)
    assert out.getvalue() == "paused builder@example.org\n"
    address = Address.objects.get(digest=digest_of("builder@example.org"))
    assert say(address.paused_because) == "The message came back: 550 no such mailbox"
    sent.refresh_from_db()
    assert sent.state == State.DEAD
    (again,) = Delivery.objects.filter(notices=sent.notices.get()).exclude(id=sent.id)
    assert (again.address.target, again.state) == ("second@example.org", State.DUE)


@pytest.mark.parametrize(
    "text",
    [
        report("<01a214c7-1819-735b-b4ca-bf8af44e5677@localhost>", action="delayed"),
        report("<somebody-elses@example.org>"),
        "Subject: hello\n\nA letter.",
    ],
)
def test_what_is_no_return_of_ours_pauses_nothing(text) -> None:
    assert bounces(message_from_string(text, policy=policy.default)) == []
