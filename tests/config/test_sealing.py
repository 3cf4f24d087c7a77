"""Secrets are sealed: by which key, for which column, and how keys are exchanged."""

import base64
import os
import stat
from pathlib import Path
from types import SimpleNamespace

import pytest
from django.core.exceptions import ImproperlyConfigured

from config.environment import read_environment
from config.resealing import _json
from config.sealing import (
    FILE,
    KeyMissing,
    SealFault,
    first_key_id,
    forget_keys,
    is_sealed,
    key_id,
    new_key,
    seal,
    unseal,
)

OF = "notifications_gateway.url"
SECRET = "whsec_of-tests-alone, 🗝"


@pytest.fixture
def keyed(settings, tmp_path):
    """Set the keys of the environment, or none."""

    def with_keys(*keys: str, cluster: bool = False, secret_key: str = "s" * 50) -> None:
        settings.VAR = tmp_path
        settings.SECRET_KEY = secret_key
        settings.ENVIRONMENT = SimpleNamespace(studbay_sealing_keys=list(keys), cluster=cluster)
        forget_keys()

    yield with_keys
    forget_keys()


def test_a_secret_is_opened_where_it_was_sealed_and_nowhere_else(keyed) -> None:
    keyed(new_key())
    kept = seal(SECRET, of=OF)
    assert SECRET not in kept
    assert kept != seal(SECRET, of=OF), "two seals of one text tell that it is one text"
    assert unseal(kept, of=OF) == SECRET
    with pytest.raises(SealFault, match="moved there from elsewhere"):
        unseal(kept, of="notifications_address.secret")


def test_a_seal_that_was_altered_in_any_byte_is_refused(keyed) -> None:
    keyed(new_key())
    head, _, body = seal("short", of=OF).rpartition(":")
    whole = base64.urlsafe_b64decode(body)
    for at in range(len(whole)):
        other = whole[:at] + bytes([whole[at] ^ 1]) + whole[at + 1 :]
        with pytest.raises(SealFault):
            unseal(f"{head}:{base64.urlsafe_b64encode(other).decode()}", of=OF)
    for spoilt in ("", "clear", f"{head}:", f"{head}:?", head, "s1::", "s1"):
        with pytest.raises(SealFault):
            unseal(spoilt, of=OF)


def test_the_first_key_seals_and_every_key_unseals(keyed) -> None:
    old, new = new_key(), new_key()
    keyed(old)
    before = seal(SECRET, of=OF)
    keyed(new, old)
    assert unseal(before, of=OF) == SECRET
    after = seal(SECRET, of=OF)
    assert key_id(after) == first_key_id() != key_id(before)
    keyed(new)
    assert unseal(after, of=OF) == SECRET
    with pytest.raises(KeyMissing, match=f"{key_id(before)}.*STUDBAY_SEALING_KEYS"):
        unseal(before, of=OF)


def test_without_a_setting_a_key_is_made_that_its_owner_alone_reads(keyed, tmp_path) -> None:
    before = os.umask(0o022)
    try:
        keyed()
        kept = seal(SECRET, of=OF)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / FILE).stat().st_mode) == 0o600
    forget_keys()
    assert unseal(kept, of=OF) == SECRET, "another process reads the same key"


def test_a_key_that_came_into_the_file_later_is_found(keyed, tmp_path) -> None:
    keyed(new_key())
    kept = seal(SECRET, of=OF)
    lost = tmp_path / "elsewhere"
    keyed()
    with pytest.raises(KeyMissing):
        unseal(kept, of=OF)
    assert not lost.exists()


def test_a_key_added_to_the_file_opens_without_a_new_start(keyed, tmp_path) -> None:
    another = new_key()
    keyed(another)
    kept = seal(SECRET, of=OF)
    keyed()
    seal("anything", of=OF)
    file: Path = tmp_path / FILE
    file.write_text(file.read_text() + another + "\n")
    assert unseal(kept, of=OF) == SECRET


def test_many_machines_share_what_follows_from_their_secret_key(keyed, settings) -> None:
    keyed(cluster=True, secret_key="a" * 50)
    kept = seal(SECRET, of=OF)
    assert not (Path(settings.VAR) / FILE).exists()
    settings.SECRET_KEY_FALLBACKS = ["a" * 50]
    keyed(cluster=True, secret_key="b" * 50)
    assert unseal(kept, of=OF) == SECRET
    assert key_id(seal(SECRET, of=OF)) != key_id(kept)
    given = new_key()
    keyed(given, cluster=True, secret_key="b" * 50)
    assert unseal(kept, of=OF) == SECRET
    settings.SECRET_KEY_FALLBACKS = []
    keyed(given, cluster=True, secret_key="b" * 50)
    with pytest.raises(KeyMissing):
        unseal(kept, of=OF)


@pytest.mark.parametrize("key", ["short", "x" * 44, "é"])
def test_a_key_that_is_none_is_refused_at_the_start_and_not_told(key: str) -> None:
    with pytest.raises(
        ImproperlyConfigured, match="STUDBAY_SEALING_KEYS: must be 32 bytes"
    ) as told:
        read_environment({"STUDBAY_SEALING_KEYS": f"{new_key()},{key}"})
    assert key not in str(told.value)


def test_keys_are_among_what_no_log_tells() -> None:
    one, two = new_key(), new_key()
    assert {one, two} <= set(read_environment({"STUDBAY_SEALING_KEYS": f"{one}, {two}"}).secrets())


def test_a_file_of_keys_that_was_spoilt_is_named(keyed, tmp_path) -> None:
    (tmp_path / FILE).write_text("no key\n")
    keyed()
    with pytest.raises(SealFault, match=f"{FILE}: each of its lines must be 32 bytes"):
        seal(SECRET, of=OF)


def test_what_a_library_keeps_in_json_is_sealed_anew_in_its_place(keyed) -> None:
    old, new = new_key(), new_key()
    keyed(old)
    data = {"secret": seal("JBSWY3DP", of=OF), "used_mask": 3, "codes": [seal("7", of=OF), "x"]}
    assert _json(data, of=OF) is data
    keyed(new, old)
    anew = _json(data, of=OF)
    keyed(new)
    assert unseal(anew["secret"], of=OF) == "JBSWY3DP"
    assert unseal(anew["codes"][0], of=OF) == "7"
    assert (anew["used_mask"], anew["codes"][1]) == (3, "x")
    assert is_sealed(anew["secret"])
