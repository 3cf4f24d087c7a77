"""How fast the outbox empties against bare Django: `python -m bench.notices [COUNT]`.

Both send the same messages to a local mail server over one reused connection, in turn, and both
are timed by the clock of the wall. Ours takes them from the database, looks whether they still
stand, makes the words, and writes down that each was sent.
"""

import sys
import tempfile
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any
from uuid import uuid4

from bench.__main__ import Row

ROUNDS = 15
GOAL = 1.4


def main(count: int) -> int:
    """Print the comparison; 1 when the goal is missed."""
    from bench.site import surroundings

    with surroundings():
        what, ours, floor, goal = notices_row(count)
    print(f"{what}: ours {ours:.2f} ms, floor {floor:.2f} ms, ratio {ours / floor:.2f} ({goal})")
    return int(ours / floor > goal)


def notices_row(count: int = 100, rounds: int = ROUNDS) -> Row:
    """Milliseconds a message; the ratio is the median of those of each round."""
    from django.test import override_settings

    from tests.notifications.mail_sink import mail_sink
    from tests.servers import free_port

    port, times = free_port(), []
    backend = "django.core.mail.backends.smtp.EmailBackend"
    sent = {"EMAIL_BACKEND": backend, "EMAIL_HOST": "127.0.0.1", "EMAIL_PORT": port}
    with tempfile.TemporaryDirectory() as folder, override_settings(**sent):
        with mail_sink(port, Path(folder) / "taken"):
            for _ in range(rounds):
                made = _put(count)
                floor = _timed(partial(_bare, made), count)
                times.append((_timed(partial(_ours, count), count), floor))
        taken = (Path(folder) / "taken").read_text().split("\n")[:-1]
    assert len(taken) == 2 * count * rounds, len(taken)
    floors = []
    ratios = []
    for ours_ms, floor_ms in times:
        floors.append(floor_ms)
        ratios.append(ours_ms / floor_ms)
    floor = median(floors)
    ours = floor * median(ratios)
    return ("notices out: the same messages over one connection", ours, floor, GOAL)


def _put(count: int) -> list[Any]:
    """So many notices that are due; the messages that bare Django is to send of them."""

    from notifications.channels.email import email_of
    from notifications.models import Channel, Delivery, State
    from notifications.services.wishes import address_add
    from tests.people import Shopful

    shop = Shopful("Bench Electric")
    address_add(
        shop.lead, person=shop.lead, shop=shop.shop, channel=Channel.EMAIL, target="l@example.org"
    )
    give_due(shop, count)
    waiting = Delivery.objects.filter(state=State.DUE).select_related("person", "shop", "address")
    emails: list[Any] = []
    for each in waiting:
        emails.append(email_of(each, list(each.notices.all())))
    return emails


def give_due(shop: Any, count: int) -> None:
    """So many notices to the crew lead of a shop that are due now, and how each is to go."""
    from django.utils import timezone

    from notifications.models import Notice, NoticeKind, NoticeRules
    from notifications.services.planning import deliveries_plan

    now = timezone.now()
    rules = NoticeRules.objects.select_related("shop").get(shop=shop.shop)
    found = []
    for number in range(count):
        found.append(
            Notice(
                person=shop.lead,
                shop=shop.shop,
                reason="deficiency due",
                kind=NoticeKind.DEFICIENCY,
                occasion=uuid4().hex,
                text=(
                    f"Lot {number}, Bedroom wing: due by 2026-03-20 and not mended: "
                    "staple the cable"
                ),
                due_at=now,
                given_at=now,
            )
        )
    notices = Notice.objects.bulk_create(found)
    deliveries_plan(notices, rules, now)


def _bare(messages: list[Any]) -> None:
    from django.core.mail import get_connection

    with get_connection() as connection:
        for message in messages:
            connection.send_messages([message])


def _ours(count: int) -> None:
    from notifications.models import Channel, Lane
    from notifications.services.sending import deliver

    sent = deliver(Lane.ORDINARY, Channel.EMAIL)
    assert sent == count, sent


def _timed(act: Any, count: int) -> float:
    """Milliseconds a message."""
    start = perf_counter()
    act()
    return 1000 * (perf_counter() - start) / count


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 100))
