"""Webhooks, against a real server: signed, and never to a private host."""

from datetime import timedelta

import pytest
from django.utils import timezone
from standardwebhooks import Webhook, WebhookVerificationError

from config.languages import say
from inspections.services.settling import job_settle
from notifications.models import Address, Channel, Delivery, Lane, NoticeRules, State
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from tests.inspections.tiny import HOUSES
from tests.notifications.wire import OPEN, serving

pytestmark = pytest.mark.django_db


@pytest.fixture
def server():
    """A server on loopback."""
    with serving() as made:
        yield made


@pytest.fixture
def area(shop):
    return shop.roughed_in(HOUSES["clean"]).areas.get(code="east")


def hook(shop, url: str) -> Address:
    return address_add(
        shop.office, person=shop.builder, shop=shop.shop, channel=Channel.WEBHOOK, target=url
    )


def released(shop, area, channel: Channel = Channel.WEBHOOK) -> int:
    shop.release(area)
    job_settle(area.job_id)
    return deliver(Lane.ORDINARY, channel)


@pytest.mark.usefixtures("own_network")
def test_a_webhook_is_verified_by_the_librarys_own_verifier(shop, server, area) -> None:
    address = hook(shop, f"{server.url}/hook?shop=1")
    assert released(shop, area) == len(server.asked) > 0
    _, path, headers, body = server.asked[0]
    assert path == "/hook?shop=1"
    told = Webhook(address.secret).verify(body, headers)
    assert told["type"] == "notices.given"
    assert told["data"]["notices"][0]["job"] == str(area.job_id)
    assert headers["webhook-id"] in {str(each.id) for each in shop.own(Delivery)}

    with pytest.raises(WebhookVerificationError, match="No matching signature"):
        Webhook(address.secret).verify(body.replace(b"OK TO COVER", b"DO NOT COVER"), headers)
    with pytest.raises(WebhookVerificationError, match="No matching signature"):
        Webhook("whsec_" + "A" * 32).verify(body, headers)
    old = str(int((timezone.now() - timedelta(minutes=6)).timestamp()))
    with pytest.raises(WebhookVerificationError, match="too old"):
        Webhook(address.secret).verify(body, headers | {"webhook-timestamp": old})


@pytest.mark.usefixtures("own_network")
def test_a_second_try_has_the_same_id(shop, server, area) -> None:
    hook(shop, server.url)
    server.status = 503
    assert released(shop, area) == 0
    shop.own(Delivery).update(due_at=timezone.now())
    server.status = 200
    deliver(Lane.ORDINARY, Channel.WEBHOOK)
    ids = [headers["webhook-id"] for _, _, headers, _ in server.asked]
    assert sorted(ids[: len(ids) // 2]) == sorted(ids[len(ids) // 2 :])


@pytest.mark.usefixtures("own_network")
@pytest.mark.parametrize(
    ("status", "state", "paused"),
    [(302, "dead", False), (404, "dead", False), (410, "dead", True), (429, "due", False)],
)
def test_an_answer_that_is_not_yes(shop, server, area, status, state, paused) -> None:
    address = hook(shop, server.url)
    server.status, server.location = status, "/elsewhere"
    released(shop, area)
    address.refresh_from_db()
    assert str(status) in say(shop.own(Delivery).first().fault)
    assert (shop.own(Delivery).first().state, address.paused_at is not None) == (state, paused)
    assert "/elsewhere" not in {path for _, path, _, _ in server.asked}


def test_a_private_host_is_not_asked_unless_the_server_allows_it(shop, server, area) -> None:
    hook(shop, server.url.replace("http:", "https:"))
    assert released(shop, area) == 0
    delivery = shop.own(Delivery).first()
    assert delivery.state == State.DEAD
    assert "an address of a private network. Whoever runs the site can allow" in say(delivery.fault)
    assert server.asked == []


def test_without_tls_nothing_is_asked(shop, area, monkeypatch) -> None:
    found = [(2, 1, 6, "", (OPEN, 80))]
    monkeypatch.setattr("socket.getaddrinfo", lambda *_, **__: found)
    hook(shop, "http://example.org/hook")
    released(shop, area)
    assert "must begin with https://" in say(shop.own(Delivery).first().fault)


def test_no_switch_of_a_shop_opens_the_servers_network(shop, server, area) -> None:
    NoticeRules.objects.filter(shop=shop.shop).update(private_webhooks=True)
    hook(shop, server.url)
    assert released(shop, area) == 0
    assert "an address of a private network" in say(shop.own(Delivery).first().fault)
    assert server.asked == []
