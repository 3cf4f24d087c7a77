"""Whoever is removed from a shop: what was made for them ends in the same transaction."""

from collections.abc import Callable, Sequence
from typing import Any
from uuid import UUID

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core import mail
from django.core.exceptions import ValidationError
from django.core.mail import EmailMessage
from django.db import models
from django.test import Client
from django.utils import timezone

from api.models import StoredAnswer
from inspections.models import Link
from inspections.services.links import cover_link_make, placard_make
from jobs.models import ApiToken, Invitation, Membership, Person, Role
from jobs.services.people import invitation_accept, invitation_make, membership_end
from jobs.services.tokens import token_make
from jobs.signals import person_left
from notifications.channels import email
from notifications.models import Address, Channel, Delivery, Feed, Lane, Notice, NoticeRules, State
from notifications.selectors import addresses_of, feed_calendar, office_troubles
from notifications.services import outbox, sending
from notifications.services.feeds import feed_open
from notifications.services.outbox import delivery_retry
from notifications.services.planning import deliveries_plan
from notifications.services.sending import deliver
from notifications.services.wishes import address_add, gateway_add
from tests.clocks import house_day
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
QUEUED = 11


def leaves(shop, person: Person) -> None:
    membership_end(shop.office, membership=Membership.objects.get(shop=shop.shop, person=person))


def queued(shop, person: Person, count: int = QUEUED) -> list[Delivery]:
    """So many messages that wait, each of a notice of its own."""
    address_add(
        person, person=person, shop=shop.shop, channel=Channel.EMAIL, target="p@studbay.example"
    )
    now = timezone.now()
    notices = [
        Notice.objects.create(
            person=person,
            shop=shop.shop,
            reason="of tests alone",
            kind="inspection",
            occasion=str(number),
            text=f"Message {number}",
            due_at=now,
            given_at=now,
        )
        for number in range(count)
    ]
    deliveries_plan(notices, NoticeRules.objects.get(shop=shop.shop), now)
    waiting = list(Delivery.objects.filter(person=person, state=State.DUE))
    assert len(waiting) == count
    return waiting


@pytest.fixture
def locmem(settings) -> list[EmailMessage]:
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    mail.outbox = []
    return mail.outbox


def send_all() -> None:
    for lane in Lane:
        deliver(lane, Channel.EMAIL)


def test_nothing_that_waited_is_sent(shop, locmem) -> None:
    waiting = queued(shop, shop.lead)
    leaves(shop, shop.lead)
    states = Delivery.objects.filter(id__in=[each.id for each in waiting])
    assert set(states.values_list("state", flat=True)) == {State.MOOT}, "in the same transaction"
    send_all()
    assert locmem == []


def test_nothing_is_sent_of_what_a_worker_has_in_hand(shop, locmem, monkeypatch) -> None:
    """The worker took all of it, read who is in the shop, and is about to send the first."""
    queued(shop, shop.lead)
    looked = sending._standing

    def then_they_leave(batch: Sequence[Delivery]) -> set[UUID]:
        found = looked(batch)
        if Membership.objects.filter(shop=shop.shop, person=shop.lead).exists():
            leaves(shop, shop.lead)
        return found

    monkeypatch.setattr(sending, "_standing", then_they_leave)
    send_all()
    assert locmem == []
    assert not Delivery.objects.filter(person=shop.lead, state=State.DUE).exists()


def test_what_was_on_its_way_is_written_down_as_sent_and_the_rest_stays(
    shop, locmem, monkeypatch
) -> None:
    """They leave while the mail server takes the first of eleven."""
    queued(shop, shop.lead)
    other = queued(shop, shop.member, 3)
    send = email.EmailSender.send

    def while_it_goes(self, delivery, notices, meanwhile: Callable[[], None]) -> None:
        send(self, delivery, notices, meanwhile)
        if delivery.person_id == shop.lead.id:
            leaves(shop, shop.lead)

    monkeypatch.setattr(email.EmailSender, "send", while_it_goes)
    send_all()
    to_lead = Delivery.objects.filter(person=shop.lead)
    assert to_lead.filter(state=State.SENT).count() == 1
    assert to_lead.filter(state=State.MOOT).count() == QUEUED - 1
    assert len(locmem) == 1 + len(other), "whoever stays is told"


def test_a_batch_that_lost_some_of_its_messages_is_sent_to_its_end(shop, monkeypatch) -> None:
    queued(shop, shop.lead, 2)
    queued(shop, shop.member, 2)
    (lane,) = {each.lane for each in Delivery.objects.filter(person=shop.lead)}
    batch = outbox.take(Lane(lane), Channel.EMAIL)
    leaves(shop, shop.lead)
    assert outbox.keep_lease(batch), "what ended was taken by nobody else"


def hook(shop) -> Address:
    return address_add(
        shop.lead,
        person=shop.lead,
        shop=shop.shop,
        channel=Channel.WEBHOOK,
        target="https://hooks.studbay.example/of-tests",
    )


def test_addresses_and_webhooks_end_and_what_was_sent_stays(shop, locmem) -> None:
    queued(shop, shop.lead, 1)
    webhook = hook(shop)
    send_all()
    leaves(shop, shop.lead)
    webhook.refresh_from_db()
    assert webhook.ended_at is not None
    assert webhook.secret == ""
    assert not addresses_of(shop.lead).exists()
    gone = Delivery.objects.get(person=shop.lead)
    assert (gone.state, gone.address.target) == (State.SENT, "p@studbay.example")
    Delivery.objects.filter(id=gone.id).update(state=State.DEAD)
    with pytest.raises(ValidationError, match="left the shop"):
        delivery_retry(shop.office, delivery=gone)
    Address.objects.filter(person=shop.lead).update(paused_at=timezone.now())
    assert not office_troubles(shop.shop).paused.exists()


def test_whoever_comes_back_gives_an_address_anew(shop) -> None:
    webhook = hook(shop)
    secret = webhook.secret
    leaves(shop, shop.lead)
    invitation, _ = invitation_make(
        shop.office, shop=shop.shop, role=Role.CREW_LEAD, for_whom="Lead"
    )
    invitation_accept(shop.lead, invitation=invitation)
    assert not addresses_of(shop.lead).exists()
    again = address_add(
        shop.lead,
        person=shop.lead,
        shop=shop.shop,
        channel=Channel.WEBHOOK,
        target=webhook.target,
    )
    assert again.ended_at is None
    assert again.secret not in ("", secret)


def test_whoever_works_with_another_shop_is_reached_by_that_one(shop, stranger_shop) -> None:
    Membership.objects.create(
        shop=stranger_shop.shop,
        person=shop.builder,
        role=Role.BUILDER,
        builder=stranger_shop.firm,
    )
    given = {"person": shop.builder, "shop": shop.shop}
    mine = address_add(shop.builder, channel=Channel.EMAIL, target="b@studbay.example", **given)
    gateway = gateway_add(
        shop.office, shop=shop.shop, name="texts", kind="chat", url="https://gate/{to}"
    )
    text = address_add(
        shop.builder, channel=Channel.MESSAGE, target="555", gateway=gateway, **given
    )
    token, _ = token_make(shop.builder, name="Meter", scope=ApiToken.Scope.READ)
    browser = Client()
    browser.force_login(shop.builder)
    leaves(shop, shop.builder)
    for each in (mine, text, token):
        each.refresh_from_db()
    assert (mine.ended_at, mine.shop_id) == (None, stranger_shop.shop.id)
    assert text.ended_at is not None
    assert token.revoked_at is None
    assert browser.get("/").status_code == 200


def test_calendars_tokens_invitations_and_sessions_end(shop, client) -> None:
    second = shop.person("second", Role.OFFICE)
    feed = feed_open(second, shop=shop.shop)
    token, _ = token_make(second, name="Meter", scope=ApiToken.Scope.READ)
    made, _ = invitation_make(second, shop=shop.shop, role=Role.OFFICE, for_whom="a friend")
    others, _ = invitation_make(shop.office, shop=shop.shop, role=Role.OFFICE, for_whom="another")
    StoredAnswer.objects.create(person=second, key="k", call="c", given_at=timezone.now())
    NoticeRules.objects.filter(shop=shop.shop).update(owner=second)
    browser, another = Client(), Client()
    browser.force_login(second)
    another.force_login(shop.office)
    leaves(shop, second)
    for each in (feed, token, made, others):
        each.refresh_from_db()
    assert feed.withdrawn_at is not None
    assert token.revoked_at is not None
    assert made.withdrawn_at is not None, "who made it has its address"
    assert others.withdrawn_at is None
    assert not StoredAnswer.objects.filter(person=second).exists()
    assert NoticeRules.objects.get(shop=shop.shop).owner is None
    assert b"VEVENT" not in sure(feed_calendar(feed.token))
    assert browser.get("/").status_code == 302
    assert another.get("/").status_code == 200


def test_a_calendar_that_ended_stays_so_for_whoever_comes_back(shop) -> None:
    feed = feed_open(shop.lead, shop=shop.shop)
    leaves(shop, shop.lead)
    Membership.objects.create(shop=shop.shop, person=shop.lead, role=Role.CREW_LEAD)
    assert feed_calendar(feed.token) is None


def test_links_for_the_person_end_and_those_for_others_stay(shop) -> None:
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop").get(code="east")
    theirs, _ = cover_link_make(shop.office, job=job, for_whom=shop.builder.get_full_name().upper())
    named, _ = cover_link_make(shop.office, job=job, for_whom=shop.builder.username)
    firms, _ = cover_link_make(shop.office, job=job, for_whom="Site office of Pellow Homes")
    on_wall, _ = placard_make(shop.lead, area=area)
    leaves(shop, shop.builder)
    leaves(shop, shop.lead)
    for each in (theirs, named, firms, on_wall):
        each.refresh_from_db()
    assert theirs.withdrawn_at is not None
    assert named.withdrawn_at is not None
    assert firms.withdrawn_at is None
    assert on_wall.withdrawn_at is None


def test_all_of_it_is_one_transaction(shop, monkeypatch) -> None:
    """Something breaks at the end of it: they have not left, and have all that they had."""
    queued(shop, shop.lead)
    token, _ = token_make(shop.lead, name="Meter", scope=ApiToken.Scope.READ)

    def breaks(*_: object, **__: object) -> None:
        raise RuntimeError("of tests alone")

    monkeypatch.setattr(person_left, "send", breaks)
    from django.db import transaction

    with pytest.raises(RuntimeError), transaction.atomic():
        leaves(shop, shop.lead)
    assert Membership.objects.filter(shop=shop.shop, person=shop.lead).exists()
    token.refresh_from_db()
    assert token.revoked_at is None
    assert Delivery.objects.filter(person=shop.lead, state=State.DUE).count() == QUEUED


def test_whoever_removes_themselves_is_signed_out_in_words(shop, client) -> None:
    second = shop.person("second", Role.OFFICE)
    client.force_login(second)
    own = Membership.objects.get(shop=shop.shop, person=second)
    answer = client.post(f"/people/{own.id}/", {"gone": "yes"}, follow=True)
    assert answer.status_code == 200
    assert answer.redirect_chain[-1][0].startswith("/sign-in/")
    assert not Session.objects.filter(session_key=client.session.session_key or "-").exists()


ENDED = {
    "api.StoredAnswer.person": "deleted, unless they work with another shop yet",
    "inspections.Link.for_whom": "withdrawn where it names them",
    "jobs.ApiToken.person": "revoked, unless they work with another shop yet",
    "jobs.Crew.lead": "the crew has no lead until the office names one",
    "jobs.Invitation.made_by": "withdrawn while nobody has used it",
    "jobs.Job.crew_lead": "the job has no lead until the office names one",
    "jobs.Membership.person": "deleted: it is what ends",
    "notifications.Address.person": "ended, or handed to the other shop that they work with",
    "notifications.Delivery.person": "what was not sent is moot",
    "notifications.Feed.person": "withdrawn",
    "notifications.Notice.person": "what was not seen is moot",
    "notifications.NoticeRules.owner": "the office gets the summary again",
}
"""Columns that name a person, and what becomes of their rows when that person leaves the shop."""

RECORD = "the record: who did it stays said"
PLAN = "what was planned and sent for a day stays as it was; lists go to who is in the shop"
LIBRARY = "of the person's own sign-in, which is of no shop; kept by a library"
KEPT = {
    "inspections.Link.made_by": "links made for others are in their readers' hands",
    "account.EmailAddress.user": LIBRARY,
    "jobs.Absence.person": PLAN,
    "jobs.CrewPlace.person": PLAN,
    "jobs.PersonSkill.person": PLAN,
    "jobs.Person_groups.person": "used by nothing here",
    "jobs.Person_user_permissions.person": "used by nothing here",
    "jobs.SecondFactor.person": "of the person's own sign-in, which is of no shop",
    "jobs.SecondFactor.ended_by": "says who turned it off",
    "mfa.Authenticator.user": LIBRARY,
    "notifications.Feed.lead": "a calendar of the office's; it shows no jobs of one who leads none",
    "notifications.Habits.person": "their own hours, which are of no shop",
    "notifications.Wish.person": "their own wishes, which are of no shop",
    "jobs.OpenSession.person": "tells of sessions; the sessions themselves end",
    "jobs.WayBack.person": "lets in nobody who is not in the shop; it stays said that it was made",
}
"""The same of columns whose rows stay, each with the reason."""
LIBRARIES = ("account.", "mfa.")
"""Apps that are installed or not."""
ACTING = ("_by", "by")
"""What ends so names who did something: part of the record, and of nothing that opens."""


def naming_people() -> "dict[str, models.Field[Any, Any]]":
    """Every column that refers to a person or a membership, in whatever app."""
    found = {}
    for model in apps.get_models(include_auto_created=True):
        for field in model._meta.get_fields():
            if not field.concrete or not field.is_relation:
                continue
            if field.related_model in (Person, Membership):
                found[f"{model._meta.label}.{field.name}"] = field
    return found


def test_every_column_that_names_a_person_is_said_to_end_or_to_stay() -> None:
    """A new one fails here until somebody has thought of it."""
    named = naming_people()
    recorded = {label for label in named if label.endswith(ACTING)}
    unsaid = set(named) - recorded - set(ENDED) - set(KEPT)
    assert not unsaid, f"say what becomes of them when a person leaves: {sorted(unsaid)}"
    gone = {label for label in ENDED.keys() | KEPT.keys() if not label.startswith(LIBRARIES)}
    gone -= named.keys() | {"inspections.Link.for_whom"}
    assert not gone, f"there is no such column any more: {sorted(gone)}"
    assert not set(ENDED) & set(KEPT)


def test_rows_of_every_column_that_ends_have_ended(shop) -> None:
    """One row of each at least, so that no line above is a word alone."""
    lead = shop.lead
    job = shop.job()
    cover_link_make(shop.office, job=job, for_whom=lead.get_full_name())
    Membership.objects.filter(person=lead).update(role=Role.OFFICE)
    invitation_make(lead, shop=shop.shop, role=Role.CREW_MEMBER, for_whom="x")
    token_make(lead, name="Meter", scope=ApiToken.Scope.READ)
    feed_open(lead, shop=shop.shop)
    queued(shop, lead, 2)
    StoredAnswer.objects.create(person=lead, key="k", call="c", given_at=timezone.now())
    NoticeRules.objects.filter(shop=shop.shop).update(owner=lead)
    from jobs.services.crews import crew_open

    crew_open(shop.office, shop=shop.shop, name="A", lead=lead, people={lead: house_day()})
    living: dict[str, Callable[[], bool]] = {
        "api.StoredAnswer.person": StoredAnswer.objects.filter(person=lead).exists,
        "inspections.Link.for_whom": Link.objects.filter(
            for_whom=lead.get_full_name(), withdrawn_at=None
        ).exists,
        "jobs.ApiToken.person": ApiToken.objects.filter(person=lead, revoked_at=None).exists,
        "jobs.Crew.lead": lead.led_crews.exists,
        "jobs.Invitation.made_by": Invitation.objects.filter(
            made_by=lead, withdrawn_at=None
        ).exists,
        "jobs.Job.crew_lead": shop.shop.jobs.filter(crew_lead=lead).exists,
        "jobs.Membership.person": lead.memberships.exists,
        "notifications.Address.person": Address.objects.filter(person=lead, ended_at=None).exists,
        "notifications.Delivery.person": lead.deliveries.filter(state=State.DUE).exists,
        "notifications.Feed.person": Feed.objects.filter(person=lead, withdrawn_at=None).exists,
        "notifications.Notice.person": lead.notices.filter(moot_at=None).exists,
        "notifications.NoticeRules.owner": lead.owned_shops.exists,
    }
    assert living.keys() == ENDED.keys()
    for label, there in living.items():
        assert there(), f"{label}: the test made none"
    leaves(shop, lead)
    assert [label for label, there in living.items() if there()] == []
