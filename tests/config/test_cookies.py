"""Cookies of a site that is reached by HTTPS: each is this host's alone, and out of scripts' reach.

OWASP ASVS 5.0.0, V3.3; RFC 6265bis, section 4.1.3.
"""

import json
import os
import subprocess
import sys
from typing import Any

import pytest

CLUSTER = {
    "DATABASE_URL": "postgresql://u:p@db/studbay",
    "REDIS_URL": "rediss://broker:6379/0",
    "SECRET_KEY": "k" * 50,
    "STUDBAY_SITE": "https://studbay.example.org",
}
ASKED = """
import json, django
from django.conf import settings
django.setup()
whose = ("SESSION_COOKIE", "CSRF_COOKIE", "LANGUAGE_COOKIE")
names = [name for name in dir(settings) if name.startswith(whose)]
from config.cookies import _Cookie
from django.test import RequestFactory
told = {name: getattr(settings, name) for name in names}
told["MESSAGES_COOKIE_NAME"] = _Cookie(RequestFactory().get("/")).cookie_name
print(json.dumps(told, default=str))
"""


def settings_by(tmp_path, **given: str) -> dict[str, Any]:
    run = subprocess.run(
        [sys.executable, "-c", ASKED],
        env=os.environ
        | CLUSTER
        | {"STUDBAY_VAR": str(tmp_path), "DJANGO_SETTINGS_MODULE": "config.settings"}
        | given,
        capture_output=True,
        text=True,
        check=True,
    )
    told: dict[str, Any] = json.loads(run.stdout)
    return told


@pytest.mark.parametrize("whose", ["SESSION", "CSRF", "LANGUAGE", "MESSAGES"])
def test_by_https_each_is_this_hosts_alone(tmp_path, whose: str) -> None:
    told = settings_by(tmp_path)
    assert told[f"{whose}_COOKIE_NAME"].startswith("__Host-")
    assert told.get(f"{whose}_COOKIE_SECURE", True)
    assert told.get(f"{whose}_COOKIE_DOMAIN") is None
    assert told.get(f"{whose}_COOKIE_PATH", "/") == "/"
    assert told.get(f"{whose}_COOKIE_SAMESITE", "Lax") in ("Lax", "Strict")
    assert told["SESSION_COOKIE_HTTPONLY"]
    assert told["CSRF_COOKIE_HTTPONLY"]


def test_without_https_no_prefix_is_sent_that_browsers_refuse(tmp_path) -> None:
    told = settings_by(tmp_path, STUDBAY_HTTPS="no")
    names = {value for name, value in told.items() if name.endswith("COOKIE_NAME")}
    assert not any(name.startswith("__") for name in names)
