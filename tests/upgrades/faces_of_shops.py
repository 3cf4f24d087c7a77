"""What a database says of each shop: its people, changes, messages and plan, and what it opens."""

import hashlib
from typing import Any

import pyotp
from django.test import Client
from django.utils import timezone

from config.languages import say
from inspections.models import FeedNumber
from inspections.record.feed import changes_since
from jobs.models import DayList, Person, PlannedWork, Shop
from jobs.services.factors import factor_check, passkeys_of
from notifications.models import Address, Delivery, Feed, Gateway, Notice
from tests.upgrades.renamed import word

Told = dict[str, Any]
MANY = 5000


def of_shops() -> dict[str, Told]:
    """Every shop by name."""
    found = {}
    for shop in Shop.objects.order_by("id"):
        found[shop.name] = {
            "people": _people(shop),
            "changes": _changes(shop),
            "notices": _notices(shop),
            "messages": _messages(shop),
            "reached at": _reached_at(shop),
            "planned": _planned(shop),
            "lists": DayList.objects.filter(shop=shop).count(),
        }
    return found


def _people(shop: Shop) -> list[list[str]]:
    found = []
    for each in shop.memberships.select_related("person", "builder").order_by("id"):
        firm = str(each.builder or "")
        found.append([each.person.username, str(each.person), word("role", each.role), firm])
    return found


def _changes(shop: Shop) -> list[list[Any]]:
    """What a program is told that asks for every change."""
    changes_since(shop, 0, 1)
    found = []
    told = FeedNumber.objects.filter(shop=shop).select_related("entry__job", "entry__by")
    for each in told.order_by("number")[:MANY]:
        entry = each.entry
        by = entry.by.username
        found.append([each.number, entry.job.name, entry.number, by, entry.at.isoformat()])
    return found


def _notices(shop: Shop) -> list[list[str]]:
    """Who is told of what, and whether it stands."""
    found = []
    for each in Notice.objects.filter(shop=shop).select_related("person", "job"):
        state = "stands"
        if each.moot_at is not None:
            state = "moot"
        elif each.seen_at is not None:
            state = "seen"
        kind = word("notice", each.kind)
        found.append([each.person.username, kind, str(each.job or ""), say(each.text), state])
    return sorted(found)


def _messages(shop: Shop) -> list[list[Any]]:
    """What is queued and what went, to whom and by which way."""
    found = []
    for each in Delivery.objects.filter(shop=shop).select_related("person"):
        state = word("delivery", each.state)
        due = each.due_at.isoformat()
        count = each.notices.count()
        found.append([each.person.username, each.channel, state, due, each.tries, count])
    return sorted(found)


def _reached_at(shop: Shop) -> list[list[str]]:
    """Where people are reached, unsealed; digests of what is secret."""
    found = []
    for each in Address.objects.filter(shop=shop).select_related("person"):
        secret = _digest(str(each.secret))
        found.append([each.person.username, each.channel, str(each.target), secret])
    for gateway in Gateway.objects.filter(shop=shop):
        secret = _digest(str(gateway.secret))
        found.append([gateway.name, gateway.kind, str(gateway.url), secret])
    for feed in Feed.objects.filter(shop=shop).select_related("person"):
        found.append([feed.person.username, "calendar", feed.scope, _digest(str(feed.token))])
    return sorted(found)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def _planned(shop: Shop) -> list[list[Any]]:
    """Who does what on which day, of every plan."""
    found = []
    work = PlannedWork.objects.filter(plan__shop=shop).select_related("crew", "job", "plan")
    for each in work.order_by("plan_id", "starts_on", "start_part", "id"):
        told = each.plan.told_at is not None
        days = [each.starts_on.isoformat(), each.ends_on.isoformat()]
        found.append([told, str(each.crew or ""), each.job.name, each.name, each.minutes, *days])
    return found


def opened(secrets: Told) -> Told:
    """What each secret that was given out before opens now."""
    client = Client(SERVER_NAME="localhost")
    bearer = {"Authorization": f"Bearer {secrets['token']}"}
    call = secrets["call"]
    again = client.post(call["url"], call["body"], "application/json", headers=call["headers"])
    office = Person.objects.get(username="office")
    code = pyotp.TOTP(secrets["codes"]).at(timezone.now())
    return {
        "cover link": client.get(f"/l/{secrets['cover link']}").status_code,
        "placard": client.get(f"/l/{secrets['placard']}").status_code,
        "invitation": client.get(f"/join/{secrets['invitation']}").status_code,
        "token": client.get("/api/jobs", headers=bearer).status_code,
        "calendar": client.get(f"/calendars/{secrets['calendar']}.ics").status_code,
        "call": [again.status_code, again.content.decode() == call["answer"]],
        "password": client.login(username="lead", password="rough-in"),
        "code of a phone": factor_check(office, code=code),
        "passkeys": passkeys_of(Person.objects.get(username="lead")).count(),
    }
