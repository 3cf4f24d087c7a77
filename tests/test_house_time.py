"""People read times by the clock of the house, or of the shop; programs read UTC, and say so."""

import re
from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from babel.dates import format_date
from django.core import mail
from django.utils import timezone
from pypdf import PdfReader

from notifications.models import Channel, Delivery, Lane
from notifications.models.deliveries import State
from notifications.services.sending import deliver
from tests.clock import Clock
from tests.matrix import addresses
from tests.test_access import clients, ids, path_for  # noqa: F401  fixtures among them

pytestmark = pytest.mark.django_db
SHOWN = re.compile(r"\b(05:4[789]|5:4[789]\sAM)\b")
"""The hour of the test in UTC; at the house it is 23:47 of the day before."""
AT_THE_HOUSE = re.compile(r"\b(23:4[789]|11:4[789]\sPM)")
DATED = ("people", "link-make", "join", "link", "job", "programs", "second-factor", "rulebook")
"""Pages that tell days of what was made now, and of no plan."""


@pytest.fixture
def late(monkeypatch) -> Clock:
    """Tomorrow already by UTC, and today still at the house."""
    # A Sunday there, so that no page tells it as the next working day.
    tomorrow = datetime(2026, 3, 22, 5, 47, 3, tzinfo=UTC)
    return Clock(tomorrow).put(monkeypatch)


@pytest.fixture
def on_a_sunday(late: Clock) -> Clock:
    """What is shared with other tests is of that evening too."""
    return late


def ways(day: datetime) -> tuple[str, str]:
    """A day as papers and programs write it, and as pages do."""
    return f"{day:%Y-%m-%d}", format_date(day, "medium", locale="en_US")


def read(answer) -> str:
    content = b"".join(getattr(answer, "streaming_content", ())) or answer.content
    if content.startswith(b"%PDF"):
        return "\n".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)
    return content.decode("utf-8", "replace")


def test_no_page_or_paper_tells_the_time_of_another_place(late, clients, ids) -> None:  # noqa: F811
    told, by_hour = [], 0
    for letter in "olbn":
        for name, pattern in addresses():
            if name is None or pattern.startswith("/api/") or name in ("calendar", "walk-data"):
                continue
            path = path_for(name, pattern, letter, ids)
            answer = clients[letter].get(path)
            assert answer.status_code < 500 or name == "notice-stop", (name, answer.status_code)
            if answer.status_code != 200 or "json" in answer.headers["Content-Type"]:
                continue
            text = read(answer)
            by_hour += bool(AT_THE_HOUSE.search(text))
            told += [f"{letter} {name}: {found[0]}" for found in SHOWN.finditer(text)]
            if name in DATED:
                days = (timezone.now() + timedelta(days=n) for n in (0, 14, 120))
                for day in days:
                    told += [f"{letter} {name}: {said}" for said in ways(day) if said in text]
    assert not told, "\n".join(told)
    assert by_hour > 20


def test_no_message_tells_the_time_of_another_place(late, shop, ids, settings) -> None:  # noqa: F811
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    shop.own(Delivery).update(state=State.DUE, due_at=late.now, ended_at=None)
    for lane in list(Delivery.objects.values_list("lane", flat=True).distinct()):
        deliver(Lane(lane), Channel.EMAIL)
    texts = [str(message.body) for message in mail.outbox]
    assert any(AT_THE_HOUSE.search(text) for text in texts)
    assert not [text for text in texts if SHOWN.search(text)]
