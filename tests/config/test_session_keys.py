"""Keys of sessions: made by good chance, long enough, never twice.

OWASP ASVS 5.0.0, 7.2.3.
"""

import math
from typing import Any

import pytest
from django.contrib.sessions.backends.base import VALID_KEY_CHARS

from config.sessions import SessionStore


@pytest.mark.django_db
def test_a_session_key_has_more_than_128_bits() -> None:
    store: Any = SessionStore()  # how it draws a key is no part of its declared face
    made = {store._get_new_session_key() for _ in range(200)}
    assert len(made) == 200
    assert {letter for key in made for letter in key} == set(VALID_KEY_CHARS)
    assert min(map(len, made)) * math.log2(len(VALID_KEY_CHARS)) > 128
