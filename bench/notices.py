"""How fast the outbox empties against bare Django: `python -m bench.notices [COUNT]`.

Both send the same messages to a local mail server over one reused connection, in turn, and both
are timed by the clock of the wall. Ours takes them from the database, looks whether they still
stand, makes the words, and writes down that each was sent.
"""

import os
import sys
import tempfile
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import Any

ROUNDS = 15
GOAL = 0.7


def main(count: int) -> int:
    """Print messages a second of both in each round, and the median of their ratio."""
    from tests.notifications.mail_sink import mail_sink
    from tests.servers import free_port

    port = free_port()
    with tempfile.TemporaryDirectory() as folder, mail_sink(port, Path(folder) / "taken"):
        _django(folder, port)
        ratios = []
        for number in range(ROUNDS):
            made = _put(count)
            floor = _timed(partial(_bare, made), count)
            ours = _timed(partial(_ours, count), count)
            ratios.append(ours / floor)
            print(f"round {number + 1}: bare {floor:.0f}/s, outbox {ours:.0f}/s, {ratios[-1]:.2f}")
        taken = (Path(folder) / "taken").read_text().split("\n")[:-1]
        assert len(taken) == 2 * count * ROUNDS, len(taken)
    print(f"median {median(ratios):.2f} of the floor (goal {GOAL})")
    return median(ratios) < GOAL


def _django(folder: str, port: int) -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "config.settings")
    os.environ |= {"STUDBAY_VAR": folder, "STUDBAY_MAIL_URL": f"smtp+plain://127.0.0.1:{port}"}
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)


def _put(count: int) -> list[Any]:
    """So many notices that are due; the messages that bare Django is to send of them."""
    from django.utils import timezone

    from notifications.channels.email import email_of
    from notifications.models import Channel, Delivery, Kind, Notice, NoticeRules, State
    from notifications.services import address_add
    from notifications.services.planning import deliveries_plan
    from tests.people import Shopful

    shop = Shopful("Bench Electric")
    address_add(
        shop.lead, person=shop.lead, shop=shop.shop, channel=Channel.EMAIL, target="l@example.org"
    )
    now = timezone.now()
    rules = NoticeRules.objects.select_related("shop").get(shop=shop.shop)
    notices = Notice.objects.bulk_create(
        Notice(
            person=shop.lead,
            shop=shop.shop,
            reason="deficiency due",
            kind=Kind.DEFICIENCY,
            occasion=str(number),
            text=f"Lot {number}, Bedroom wing: due by 2026-03-20 and not mended: staple the cable",
            due_at=now,
            given_at=now,
        )
        for number in range(count)
    )
    deliveries_plan(notices, rules, now)
    waiting = Delivery.objects.filter(state=State.DUE).select_related("person", "shop", "address")
    return [email_of(each, list(each.notices.all())) for each in waiting]


def _bare(messages: list[Any]) -> None:
    from django.core.mail import get_connection

    with get_connection() as connection:
        for message in messages:
            connection.send_messages([message])


def _ours(count: int) -> None:
    from notifications.models import Channel, Lane
    from notifications.services import deliver

    assert deliver(Lane.ORDINARY, Channel.EMAIL) == count


def _timed(act: Any, count: int) -> float:
    """Messages a second."""
    start = perf_counter()
    act()
    return count / (perf_counter() - start)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 100))
