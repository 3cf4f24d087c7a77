"""Every form of every page, found by opening the pages as each kind of reader."""

import re
from dataclasses import dataclass

import pyotp
import pytest
from django.test import Client
from django.urls import resolve, reverse
from django.utils import timezone

from inspections.checker.finding import Verdict
from inspections.models import Item, Outcome
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.observations import item_observe
from jobs.models import Area, Job, Plan
from jobs.services.factors import factor_begin, factor_confirm, factor_pending
from notifications.models import Delivery
from notifications.models.deliveries import State
from pages.forms_in import Control, Form, forms_in
from pages.jobs.room_rows import item_address
from pages.refill import typed_by_hand
from tests.inspections.tiny import HOUSES
from tests.matrix import addresses
from tests.people import Shopful
from tests.sure import sure, the_first
from tests.test_access import TABLE, path_for

Key = tuple[str, frozenset[str]]
NO_PAGE = re.compile(r"\.(\w|<)|/api/|photographs/<")
READERS = "obn"
"""The office, a builder, and whoever is not signed in; of others no page has a form more."""


@dataclass
class Found:
    """A form, and who found it where."""

    form: Form
    name: str
    """Of the address that it is sent to."""
    client: Client
    path: str

    @property
    def to(self) -> str:
        """The path that it is sent to."""
        return self.form.goes_to(self.path)

    @property
    def typed(self) -> list[Control]:
        """What somebody types or chooses in it."""
        return [each for each in self.form.controls if typed_by_hand(each)]

    @property
    def key(self) -> Key:
        """Forms to one address with the same fields are one; ids and codes in names vary."""
        names = (re.sub(r"-.*", "", each.name) for each in self.typed)
        return self.name, frozenset(names)


def forms_on(client: Client, path: str) -> list[Found]:
    """The forms of a page that send something."""
    answer = client.get(path)
    if answer.status_code != 200 or not answer["Content-Type"].startswith("text/html"):
        return []
    sending = [form for form in forms_in(answer.text) if form.method == "post"]
    return [
        Found(form, sure(resolve(form.goes_to(path)).url_name), client, path) for form in sending
    ]


def half_signed_in(shop: Shopful) -> Client:
    """Somebody whose password was right and whose code is still to come."""
    factor_begin(shop.lead)
    secret = sure(factor_pending(shop.lead)).pending
    factor_confirm(shop.lead, code=pyotp.TOTP(secret).at(timezone.now()))
    client = Client(raise_request_exception=False)
    client.post("/sign-in/", {"login": shop.lead.username, "password": "rough-in"})
    return client


def by_mail(ids) -> tuple[Client, str]:
    """Somebody who opened the link of a mail for a lost password."""
    client = Client(raise_request_exception=False)
    given = {"uidb36": ids["uidb36"], "key": ids["reset_key"]}
    answer = client.get(reverse("account_reset_password_from_key", kwargs=given))
    return client, answer.headers["Location"]


def withdrawn(shop: Shopful) -> Area:
    """An area whose release was withdrawn by hand."""
    area = shop.roughed_in(HOUSES["clean"]).areas.get(code="east")
    shop.release(area, reference="R10")
    cover_release_withdraw(shop.office, area=area, because="a plumber drilled a stud")
    return area


def drawn_in(job: Job) -> Item:
    """Something of a job that is confirmed with its room."""
    return the_first(job.items.filter(workmanship=True, verdict=Verdict.OK, stage="rough-in"))


def further_pages(shop: Shopful, clients, ids, house_bytes) -> list[tuple[Client, str]]:
    """Pages in states that the others are not in: before a permit, a release withdrawn by hand, a
    fault that can be undone, a plan that nobody was told."""
    office = clients["o"]
    bare = shop.job("Lot 16")
    waiting = shop.roughed_in(house_bytes)
    bedroom, garage = (waiting.areas.get(code=code) for code in ("bedroom", "garage"))
    shop.booked(bedroom, insist=True)
    shop.look_at(garage)
    shop.accept(garage, reference="R9")
    east = withdrawn(shop)
    fault = the_first(east.items.filter(verdict=Verdict.VERIFY, stage=Item.Stage.ROUGH_IN))
    item_observe(shop.office, item=fault, outcome=Outcome.FIX)
    plan = Plan.objects.get(id=ids["plan_id"])
    plan.pk, plan.told_at, plan.told_by, plan._state.adding = None, None, None, True
    plan.save()
    Delivery.objects.exclude(id=ids["delivery_id"]).update(state=State.DEAD, ended_at=plan.asked_at)
    factor_begin(shop.builder)
    half = half_signed_in(shop)
    Client().force_login(shop.member)
    return [
        (office, reverse("job", args=[bare.id])),
        (office, reverse("job", args=[waiting.id])),
        (office, reverse("job", args=[east.job_id])),
        (office, item_address(fault)),
        (office, item_address(drawn_in(waiting))),
        (office, reverse("item", args=[fault.id])),
        (office, reverse("plan", args=[plan.id])),
        (office, reverse("notice-office")),
        (office, reverse("people")),
        (clients["b"], reverse("second-factor")),
        (clients["l"], reverse("second-factor")),
        (half, reverse("mfa_authenticate")),
        (clients["m"], reverse("account")),
        by_mail(ids),
    ]


@pytest.fixture
def every_form(shop, clients, ids, house_bytes) -> dict[Key, Found]:
    """One form of each shape that somebody can find."""
    places = []
    for name, pattern in addresses():
        who = TABLE.get(f"{name} GET", "") if name else ""
        for letter in READERS:
            if letter in who and not NO_PAGE.search(pattern):
                places.append((clients[letter], path_for(name, pattern, letter, ids)))
    found: dict[Key, Found] = {}
    for client, path in [*places, *further_pages(shop, clients, ids, house_bytes)]:
        for each in forms_on(client, path):
            found.setdefault(each.key, each)
    return found
