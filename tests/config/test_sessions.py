"""Sessions: what stands in the database opens none."""

from datetime import timedelta
from importlib import import_module

import pytest
from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.management import call_command
from django.test import Client
from django.utils import timezone

from config.sessions import SessionStore, kept_key

pytestmark = pytest.mark.django_db


def signed_in(person) -> Client:
    client = Client()
    client.force_login(person)
    return client


def opens(cookie: str) -> bool:
    client = Client()
    client.cookies["sessionid"] = cookie
    return client.get("/wishes/").status_code == 200


def test_a_stolen_database_opens_no_session(shop) -> None:
    """OWASP ASVS 5.0, 7.2.1: the reference is checked by us, and is nowhere but with its holder."""
    key = signed_in(shop.lead).cookies["sessionid"].value
    assert opens(key)
    kept = list(Session.objects.values_list("session_key", flat=True))
    assert kept_key(key) in kept
    assert key not in kept
    assert not any(opens(each) for each in kept)


def test_a_session_is_found_saved_and_ended_by_its_key(shop) -> None:
    store = SessionStore()
    store["house"] = "quillet"
    store.create()
    store["house"] = "tamsel"
    store.save()
    key = store.session_key
    assert SessionStore(key)["house"] == "tamsel"
    assert store.exists(key)
    assert not store.exists(kept_key(key))
    old = key
    store.cycle_key()
    assert not store.exists(old)
    assert SessionStore(store.session_key)["house"] == "tamsel"
    SessionStore().delete(kept_key(store.session_key))
    assert store.exists(store.session_key), "a digest ends none either"
    store.delete()
    assert not store.exists(store.session_key)


def test_signing_in_and_out_leaves_nothing_behind(shop) -> None:
    client = signed_in(shop.lead)
    key = client.cookies["sessionid"].value
    client.post("/sign-out/")
    assert not Session.objects.filter(session_key=kept_key(key)).exists()
    assert not opens(key)


def test_old_sessions_are_swept(shop) -> None:
    key = signed_in(shop.lead).cookies["sessionid"].value
    mine = Session.objects.filter(session_key=kept_key(key))
    mine.update(expire_date=timezone.now() - timedelta(days=1))
    call_command("clearsessions")
    assert not mine.exists()


def test_nobody_is_signed_out_by_the_upgrade(shop) -> None:
    """The migration puts digests in place of keys; whoever has the key stays signed in."""
    migration = import_module("jobs.migrations.0010_sessions_and_tokens")
    key = signed_in(shop.lead).cookies["sessionid"].value
    row = Session.objects.get(session_key=kept_key(key))
    Session.objects.filter(session_key=row.session_key).delete()
    Session(session_key=key, session_data=row.session_data, expire_date=row.expire_date).save()
    assert not opens(key)
    for _ in range(2):  # what is done is not done again
        migration.digest_sessions(apps, None)
    assert opens(key)
    assert not Session.objects.filter(session_key=key).exists()
