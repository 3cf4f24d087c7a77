"""A mail server that is slow delays no urgent text message, on a real worker."""

import os
import socket
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.db import connection
from django.utils import timezone

from config.celery import app
from notifications.models import Channel, Delivery, Notice, NoticeKind, NoticeRules, State
from notifications.services.outbox import lanes_due
from notifications.services.planning import deliveries_plan
from notifications.services.wishes import address_add, gateway_add
from notifications.tasks import ring
from tests.inspections.broker import forget_messages
from tests.notifications.test_webhooks import server  # noqa: F401  a fixture

ROOT = Path(__file__).resolve().parents[2]

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


@contextmanager
def slow_mail_server():
    """A server that takes connections and never says a word; how many it took."""
    taken: list[socket.socket] = []
    with socket.create_server(("127.0.0.1", 0)) as listening:
        listening.settimeout(0.2)
        ended = threading.Event()

        def take() -> None:
            while not ended.is_set():
                try:
                    taken.append(listening.accept()[0])
                except TimeoutError:
                    continue

        thread = threading.Thread(target=take)
        thread.start()
        try:
            yield listening.getsockname()[1], taken
        finally:
            ended.set()
            thread.join()
            for each in taken:
                each.close()


def urgent(shop, count: int) -> None:
    """So many urgent notices to each of two people: one by e-mail, one by text message."""
    now = timezone.now()
    rules = NoticeRules.objects.select_related("shop").get(shop=shop.shop)
    made = Notice.objects.bulk_create(
        Notice(
            person=person,
            shop=shop.shop,
            reason="cover release withdrawn",
            kind=NoticeKind.COVER,
            occasion=str(number),
            urgent=True,
            text=f"Lot {number}: do not cover.",
            due_at=now,
            given_at=now,
        )
        for number in range(count)
        for person in (shop.office, shop.builder)
    )
    deliveries_plan(made, rules, now)


@pytest.mark.usefixtures("own_network")
def test_an_urgent_text_message_goes_past_a_mail_server_that_hangs(shop, server) -> None:  # noqa: F811
    app.conf.task_always_eager = False
    forget_messages()
    gateway = gateway_add(
        shop.office,
        shop=shop.shop,
        name="texts",
        kind="chat",
        url=f"{server.url}/{{to}}",
    )
    given = {"person": shop.office, "shop": shop.shop}
    address_add(shop.office, channel=Channel.EMAIL, target="office@example.org", **given)
    given = {"person": shop.builder, "shop": shop.shop, "gateway": gateway}
    address_add(shop.builder, channel=Channel.MESSAGE, target="5551234", **given)
    urgent(shop, 5)
    name = connection.settings_dict["NAME"]
    with slow_mail_server() as (port, taken):
        environment = os.environ | {
            "DATABASE_URL": os.environ["DATABASE_URL"].replace("/postgres?", f"/{name}?"),
            "STUDBAY_PRIVATE_NETWORKS": "127.0.0.0/8",
            "STUDBAY_MAIL_URL": f"smtp+plain://127.0.0.1:{port}",
        }
        command = [sys.executable, "-m", "celery", "-A", "config", "worker", "-Q", "urgent"]
        command += ["--pool", "threads", "--concurrency", "4", "-l", "error", "--without-mingle"]
        worker = subprocess.Popen(command, env=environment, cwd=ROOT, start_new_session=True)
        try:
            until = time.monotonic() + 180
            texts = shop.own(Delivery).filter(channel=Channel.MESSAGE)
            while texts.exclude(state=State.SENT).exists() or not taken:
                how = list(shop.own(Delivery).values_list("channel", "state", "tries", "fault"))
                assert time.monotonic() < until, (
                    f"the text messages wait: {how}, {len(taken)} taken"
                )
                ring(lanes=lanes_due())  # as the beat does, again and again while the server hangs
                time.sleep(0.5)
            mails = shop.own(Delivery).filter(channel=Channel.EMAIL)
            assert set(mails.values_list("state", flat=True)) == {State.DUE}
        finally:
            worker.kill()
            worker.wait()
    assert len(server.asked) == 5
    assert len(taken) <= 2  # one connection at a time
