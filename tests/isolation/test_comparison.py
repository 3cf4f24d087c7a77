"""A shop alone, and the same shop beside the stranger: every byte is the same, every row as well.

What is compared of each call: status, headers, cookies, messages, body; each statement that the
database was asked with its values, and each row that it gave; each message that went out; each
line that was logged. Moments and ids are the same since both are drawn alike.
"""

from collections import Counter
from dataclasses import dataclass

import pytest
from django.db import transaction
from django.test import Client, TestCase

from notifications.models import Channel
from notifications.reason import reasons, shop_reasons
from tests import stranger
from tests.isolation.alike import Asked, alike, logged, sending, watched
from tests.isolation.answers import Answer, answered, differences
from tests.isolation.calls import Call, calls
from tests.isolation.weeks import Weeks
from tests.isolation.world import NOW, World
from tests.lengths import in_part
from tests.matrix import addresses

pytestmark = [pytest.mark.django_db, pytest.mark.alone]
NOT_THROUGH = {
    "metrics": "figures of the whole server, for whoever runs it and has its token",
    "security-txt": "no contact is set in the test",
    "ready": "no worker runs in the test, and readiness says so",
}
"""Addresses that no call of ours gets through, and why."""


@dataclass
class Fortnight:
    """All that came of two weeks."""

    sent: list[tuple[str, str, str]]
    logged: list[str]
    asked: list[Asked]
    told: set[tuple[str, str]]
    given: set[str]


def fortnight(world: World) -> Fortnight:
    """Two weeks of the shop, undone afterwards."""
    with (
        alike(NOW, 3) as clock,
        logged() as lines,
        sending() as gone,
        watched() as asked,
        transaction.atomic(),
    ):
        weeks = Weeks(world, clock)
        with TestCase.captureOnCommitCallbacks():
            weeks.play()
        told, given = weeks.told(), weeks.given()
        transaction.set_rollback(True)
    return Fortnight(gone, lines, asked, told, given)


def test_every_message_is_the_same_beside_a_stranger(world, capsys) -> None:
    shop = world.shop
    for person, language in ((shop.builder, "fr"), (world.second, "es")):
        person.language = language
        person.save()
    alone = fortnight(world)
    stranger.put()
    beside = fortnight(world)
    assert beside.sent == alone.sent
    assert beside.logged == alone.logged
    assert beside.asked == alone.asked
    assert stranger.MARK not in repr(beside.sent).lower()
    assert stranger.NUMBER not in repr((beside.sent, beside.logged))
    every = {*reasons(), *shop_reasons()}
    assert alone.given == every
    assert {channel for _, channel in alone.told} == set(Channel.values)
    assert {reason for reason, _ in alone.told} == every
    with capsys.disabled():
        by = Counter(channel for channel, _, _ in beside.sent)
        print(
            f"\n{len(every)} reasons, {len(beside.told)} kinds of message by reason and channel: "
            + ", ".join(f"{count} by {channel}" for channel, count in by.most_common())
            + ": the same beside a stranger"
        )


def walked(world: World, clients: dict[str, Client], every: list[Call]) -> list[Answer]:
    return [answered(clients[call.caller], call, world, n) for n, call in enumerate(every)]


def test_every_address_is_the_same_beside_a_stranger(world, clients, whole, capsys) -> None:
    every = []
    for number, call in enumerate(calls(world)):
        if in_part(f"{number} {call.name} {call.caller}"):
            every.append(call)
    alone = walked(world, clients, every)
    stranger.put()
    beside = walked(world, clients, every)

    faults = []
    for call, was, now in zip(every, alone, beside, strict=True):
        faults += [f"{call}: {each}" for each in differences(was, now)]
        told = now.body + repr((now.head, now.messages, now.sent, now.logged)).encode()
        if stranger.MARK.encode() in told.lower() or stranger.NUMBER.encode() in told:
            faults.append(f"{call}: tells of the stranger")
        # No worker runs here, and readiness says so; that is an answer.
        if now.status >= 500 and "GET /ready " not in str(call):
            faults.append(f"{call}: {now.status}")
    assert not faults, "\n".join(faults[:40])

    refused = [
        f"{call}: {answer.status} {answer.messages} {answer.body[:300]!r}"
        for call, answer in zip(every, alone, strict=True)
        if call.body is not None and not answer.through
    ]
    assert not refused, "\n".join(refused)
    if not whole:
        return
    named = {name for name, _ in addresses()}
    through = {call.name for call, answer in zip(every, alone, strict=True) if answer.through}
    assert named - through == set(NOT_THROUGH)
    kinds = Counter(answer.kind for answer in beside if answer.through)
    with capsys.disabled():
        print(
            f"\n{len(named)} addresses, {len(every)} calls, {sum(kinds.values())} taken, "
            f"{sum(answer.rows for answer in beside)} rows, "
            f"{sum(len(answer.sent) for answer in beside)} messages: the same beside a stranger. "
            + ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
        )
