"""The shop that is compared, and a client for each of its readers."""

import pytest
from django.test import Client

from tests.isolation.alike import alike
from tests.isolation.calls import READERS
from tests.isolation.world import BUILT, World, world_of
from tests.people import Shopful


@pytest.fixture
def world(settings, house_bytes, tmp_path) -> World:
    settings.EMAIL_BACKEND = "notifications.channels.mail_files.FiledEmailBackend"
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
    given = {"login": shop.member.username, "password": "rough-in"}
    with alike(BUILT.replace(minute=55), 2):
        assert made["h"].post("/sign-in/", given).headers["Location"] == "/sign-in/code/"
    return made
