"""A shop alone, and the same shop beside the stranger: every byte is the same, every row as well.

What is compared of each call: status, headers, cookies, messages, body; each statement that the
database was asked with its values, and each row that it gave; each message that went out; each
line that was logged. Moments and ids are the same since both are drawn alike.
"""

from collections import Counter

import pytest
from django.test import Client

from tests import stranger
from tests.isolation.alike import alike
from tests.isolation.answers import Answer, answered, differences
from tests.isolation.calls import READERS, Call, calls
from tests.isolation.world import BUILT, World, world_of
from tests.matrix import addresses
from tests.people import Shopful

pytestmark = [pytest.mark.django_db, pytest.mark.alone]
NOT_THROUGH = {
    "metrics": "figures of the whole server, for whoever runs it and has its token",
}
"""Addresses that no call of ours gets through, and why."""


@pytest.fixture
def world(settings, house_bytes, tmp_path) -> World:
    settings.EMAIL_BACKEND = "notifications.channels.filed.FiledEmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path
    with alike(BUILT):
        made = world_of(Shopful("Ostrander & Vale Electric"), house_bytes)
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    return made


@pytest.fixture
def clients(world) -> dict[str, Client]:
    """A client for each reader, signed in as it; `h` has given a password and no code yet."""
    shop = world.shop
    people = {"o": shop.office, "l": shop.lead, "b": shop.builder, "m": shop.member}
    made = {letter: Client() for letter in (*READERS, "m", "h")}
    with alike(BUILT, 1):
        for letter, person in people.items():
            made[letter].force_login(person)
    given = {"username": shop.member.username, "password": "rough-in"}
    with alike(BUILT.replace(minute=55), 2):
        assert made["h"].post("/sign-in/", given).headers["Location"] == "/sign-in/code/"
    return made


def walked(world: World, clients: dict[str, Client], every: list[Call]) -> list[Answer]:
    return [answered(clients[call.caller], call, world, n) for n, call in enumerate(every)]


def test_every_address_is_the_same_beside_a_stranger(world, clients, capsys) -> None:
    every = list(calls(world))
    alone = walked(world, clients, every)
    stranger.put()
    beside = walked(world, clients, every)

    faults = []
    for call, was, now in zip(every, alone, beside, strict=True):
        faults += [f"{call}: {each}" for each in differences(was, now)]
        told = now.body + repr((now.head, now.messages, now.sent, now.logged)).encode()
        if stranger.MARK.encode() in told.lower() or stranger.NUMBER.encode() in told:
            faults.append(f"{call}: tells of the stranger")
        if now.status >= 500:
            faults.append(f"{call}: {now.status}")
    assert not faults, "\n".join(faults[:40])

    refused = [
        f"{call}: {answer.status} {answer.messages} {answer.body[:300]!r}"
        for call, answer in zip(every, alone, strict=True)
        if call.body is not None and not answer.through
    ]
    assert not refused, "\n".join(refused)
    through = {call.name for call, answer in zip(every, alone, strict=True) if answer.through}
    named = {name for name, _ in addresses()}
    assert named - through == set(NOT_THROUGH)
    kinds = Counter(answer.kind for answer in beside if answer.through)
    with capsys.disabled():
        print(
            f"\n{len(named)} addresses, {len(every)} calls, {sum(kinds.values())} taken, "
            f"{sum(answer.rows for answer in beside)} rows, "
            f"{sum(len(answer.sent) for answer in beside)} messages: the same beside a stranger. "
            + ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
        )
