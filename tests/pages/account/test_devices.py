"""Sessions by the names that their owner knows: a browser and a system."""

import pytest
from django.test import Client

from jobs.models import OpenSession
from pages.account.devices import BrowserDevice, device_of

PHONE = (
    "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 "
    "(KHTML, like Gecko) Version/18.0 Mobile/15E148 Safari/604.1"
)
DESK = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"


@pytest.mark.any_database
@pytest.mark.parametrize(
    ("agent", "device"),
    [
        (PHONE, BrowserDevice("Mobile Safari", "iOS")),
        (DESK, BrowserDevice("Firefox", "Linux")),
        ("", BrowserDevice("", "")),
        ("x" * 5000, BrowserDevice("", "")),
    ],
)
def test_a_browser_is_named_by_what_it_says(agent: str, device: BrowserDevice) -> None:
    assert device_of(agent) == device


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("agent", "words"), [(PHONE, "Mobile Safari on iOS"), ("nothing", "unknown device")]
)
def test_another_session_is_named_so(shop, agent: str, words: str) -> None:
    Client().force_login(shop.lead)
    OpenSession.objects.update(browser=agent)
    client = Client()
    client.force_login(shop.lead)
    page = client.get("/account/").text
    assert f"<b>{words}</b>" in page
    assert "Mozilla/5.0" not in page
