"""Every notice arrives though workers, beat and mail server are killed with SIGKILL at random.

The one honest exception: whoever is killed between the mail server's yes and our note of it
leaves a message that is sent again, with the same Message-ID. It is counted and printed.
"""

from collections import Counter
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from audit.nightly import night_of
from config.celery import app
from inspections.models import AuditRun
from notifications.channels.email import message_id
from notifications.models import Channel, Delivery, Notice, NoticeKind, NoticeRules, State
from notifications.services.planning import deliveries_plan
from notifications.services.wishes import address_add
from tests.inspections.broker import forget_messages
from tests.notifications.killed import Victims, child_environment, kill_while_sending
from tests.servers import free_port

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.postgresql]


def give(shop, count: int) -> None:
    """So many notices that are due now, to four people."""
    people = [shop.office, shop.lead, shop.member, shop.builder]
    for person in people:
        target = f"{person.username}@example.org"
        address_add(
            shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
        )
    now = timezone.now()
    rules = NoticeRules.objects.select_related("shop").get(shop=shop.shop)
    notices = Notice.objects.bulk_create(
        Notice(
            person=people[number % 4],
            shop=shop.shop,
            reason="area released",
            kind=NoticeKind.COVER,
            occasion=str(number),
            text=f"Lot {number}: may be covered.",
            due_at=now,
            given_at=now,
        )
        for number in range(count)
    )
    deliveries_plan(notices, rules, now)


def test_every_notice_arrives_whoever_is_killed(shop, tmp_path, whole, capsys) -> None:
    notices, kills = (5000, 60) if whole else (600, 10)
    app.conf.task_always_eager = False
    forget_messages()
    give(shop, notices)
    # What was given here is no conclusion from any facts: nobody is to draw the shop's now, and
    # tonight's audit, which would say so, is over.
    now = timezone.now()
    shop.own(NoticeRules).update(next_at=now + timedelta(days=1))
    AuditRun.objects.create(night=night_of(now), begun_at=now, ended_at=now)
    due = shop.own(Delivery).filter(state=State.DUE)
    assert due.count() == notices

    port = free_port()
    environment = child_environment(connection.settings_dict["NAME"], port)
    victims = Victims(environment, tmp_path, port)
    try:
        victims.start_all()
        kill_while_sending(victims, kills, lambda: not due.exists())
    finally:
        victims.end()

    taken = Counter(victims.taken())
    assert set(taken) == {message_id(each) for each in shop.own(Delivery).filter(state=State.SENT)}
    assert len(taken) == notices
    twice = sum(taken.values()) - notices
    assert sum(victims.kills.values()) == kills
    assert twice <= kills
    with capsys.disabled():
        print(
            f"\n{notices} notices, killed {dict(victims.kills)}: all arrived, "
            f"{twice} of them twice with the same Message-ID (at most {kills})"
        )
