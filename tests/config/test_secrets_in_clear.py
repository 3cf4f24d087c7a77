"""No secret that a filled shop has stands in clear in any column of any table."""

import base64
import re
from collections.abc import Iterator

import pytest
from django.contrib.messages.storage.session import SessionStorage
from django.core.management import call_command
from django.db import connection
from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse

from config.sealing import forget_keys, new_key
from inspections.services.links import cover_link_make, placard_make
from jobs.models import ApiToken, Role
from jobs.services.people import invitation_make
from jobs.services.tokens import token_make
from notifications.models import Address, Channel, Feed
from notifications.selectors import feed_calendar
from notifications.services.feeds import feed_open
from notifications.services.wishes import address_add, gateway_add
from tests.inspections.tiny import HOUSES

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.alone]


def everything() -> Iterator[tuple[str, str]]:
    """Table and column with each value that the database holds, as text."""
    with connection.cursor() as cursor:
        for table in connection.introspection.table_names(cursor):
            cursor.execute(f"SELECT * FROM {connection.ops.quote_name(table)}")
            columns = [column[0] for column in cursor.description]
            for row in cursor.fetchall():
                for column, value in zip(columns, row, strict=True):
                    yield f"{table}.{column}", _text(value)


def _text(value: object) -> str:
    if isinstance(value, memoryview | bytes):
        return bytes(value).decode("latin-1")
    return str(value)


def readable(text: str) -> str:
    """What a text says, and what it says once base64 is taken off, as sessions have it."""
    found = [text]
    for part in re.findall(r"[\w+/=-]{24,}", text):
        clean = part.rstrip("=")
        clean = clean[:-1] if len(clean) % 4 == 1 else clean  # a letter too many for base64
        found.append(base64.urlsafe_b64decode(clean + "=" * (-len(clean) % 4)).decode("latin-1"))
    return "\n".join(found)


@pytest.fixture
def secrets(shop, settings) -> dict[str, str]:
    """Everything of a filled shop that opens or signs something, by what it is."""
    job = shop.roughed_in(HOUSES["clean"])
    area = job.areas.select_related("job__shop").get(code="east")
    given = {"person": shop.lead, "shop": shop.shop, "channel": Channel.WEBHOOK}
    hook = address_add(shop.lead, target="https://hooks.studbay.example/of-tests-alone", **given)
    gateway_add(
        shop.office,
        shop=shop.shop,
        name="texts",
        kind="sms",
        url="https://gate.studbay.example/path-of-tests",
        account="AC1",
        secret="gateway-secret-of-tests",
        sender="+15550100",
    )
    found = {
        "a webhook's signing secret": hook.secret,
        "a webhook's address": "of-tests-alone",
        "a gateway's address": "path-of-tests",
        "a gateway's secret": "gateway-secret-of-tests",
        "a calendar's address": feed_open(shop.lead, shop=shop.shop).token,
        "a token": token_make(shop.lead, name="M", scope=ApiToken.Scope.READ)[1],
        "an invitation": invitation_make(
            shop.office, shop=shop.shop, role=Role.OFFICE, for_whom="x"
        )[1],
        "a link": cover_link_make(shop.office, job=job, for_whom="x")[1],
        "a placard": placard_make(shop.lead, area=area)[1],
    }
    return found | _by_the_faces(shop, job) | {"a session's content": _said_in_a_session(shop)}


def _by_the_faces(shop, job) -> dict[str, str]:
    """What programs and pages were told once, with the answers that are kept to be given again."""
    client = Client()
    client.force_login(shop.office)
    made = client.post(
        f"/api/jobs/{job.id}/links",
        {"for_whom": "x"},
        content_type="application/json",
        headers={"Idempotency-Key": "k"},
    )
    assert made.status_code == 201, made.content
    return {"a link by the API": made.json()["secret"]}


def _said_in_a_session(shop) -> str:
    """A message that was too long for a cookie waits in the session."""
    client = Client()
    client.force_login(shop.office)
    request = RequestFactory().get("/")
    request.session, request.user = client.session, shop.office
    storage = SessionStorage(request)
    storage.add(20, "shown this once: secret-in-a-session")
    storage.update(HttpResponse())
    request.session.save()
    assert "secret-in-a-session" in str(dict(client.session.items()))
    return "secret-in-a-session"


def test_no_secret_stands_in_clear_in_any_column(shop, secrets) -> None:
    assert all(len(each) > 5 for each in secrets.values())
    found = {
        f"{what} in {where}"
        for where, text in everything()
        for what, secret in secrets.items()
        if secret in text or secret in readable(text)
    }
    assert found == set()


def test_what_is_looked_for_would_be_found(shop, secrets) -> None:
    """The test above finds what it looks for: a name that stands in clear, and one in base64."""
    with connection.cursor() as cursor:
        inside = base64.urlsafe_b64encode(b'{"said": "secret-in-a-session"}').decode()
        cursor.execute("UPDATE notifications_feed SET token = %s", [inside])
        cursor.execute("UPDATE notifications_gateway SET url = %s", ["https://x/path-of-tests"])
    texts = dict(everything())
    assert "path-of-tests" in texts["notifications_gateway.url"]
    assert "secret-in-a-session" in readable(texts["notifications_feed.token"])


def test_whoever_s_session_cannot_be_opened_signs_in_again(shop, client, settings) -> None:
    client.force_login(shop.lead)
    assert client.get("/").status_code == 200
    given = {"studbay_sealing_keys": [new_key()], "database_url": ""}
    settings.ENVIRONMENT = settings.ENVIRONMENT.model_copy(update=given)
    settings.VAR = settings.VAR / "elsewhere"
    forget_keys()
    try:
        assert client.get("/").status_code == 302
    finally:
        forget_keys()


def test_what_is_sealed_serves_as_before(shop, client) -> None:
    feed = feed_open(shop.lead, shop=shop.shop)
    assert client.get(reverse("calendar", args=[feed.token])).status_code == 200
    client.force_login(shop.lead)
    assert feed.token in client.get(reverse("wishes")).text, "its maker reads the address again"
    given = {"person": shop.lead, "shop": shop.shop, "channel": Channel.EMAIL}
    address_add(shop.lead, target="lead@studbay.example", **given)
    assert "lead@studbay.example" in client.get(reverse("wishes")).text


def test_what_the_version_before_writes_meanwhile_is_read_and_sealed_later(shop, capsys) -> None:
    """It knows neither the seal nor the digest."""
    feed = feed_open(shop.lead, shop=shop.shop)
    given = {"person": shop.lead, "shop": shop.shop, "channel": Channel.WEBHOOK}
    hook = address_add(shop.lead, target="https://hooks.studbay.example/1", **given)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE notifications_feed SET token = 'clear-token', digest = NULL")
        cursor.execute("UPDATE notifications_address SET secret = 'whsec_clear', digest = NULL")
    assert feed_calendar("clear-token") is not None
    assert Address.objects.get(id=hook.id).secret == "whsec_clear"
    call_command("reseal")
    capsys.readouterr()
    texts = dict(everything())
    assert "clear-token" not in texts["notifications_feed.token"]
    assert "whsec_clear" not in texts["notifications_address.secret"]
    assert Feed.objects.get(id=feed.id).token == "clear-token"
    assert feed_calendar("clear-token") is not None
