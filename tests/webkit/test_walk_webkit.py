"""The walk in WebKit: answers without signal, a photograph, a browser that is killed, one sending.

The service worker, the store and the camera's field are those of another maker than Chromium's.
"""

from pathlib import Path

import pytest
from django.test import Client
from PIL import Image

from inspections.models import Observation, Photograph
from inspections.record.chain import record_faults
from tests.browser.phones import Site
from tests.browser.walking import OPEN
from tests.inspections.tiny import HOUSES
from tests.webkit.driver import Phone, Screen

pytestmark = [
    pytest.mark.webkit,
    pytest.mark.postgresql,
    pytest.mark.django_db(transaction=True),
]
SCREENS = Path(__file__).resolve().parents[2] / "var" / "screenshots"
FAR_AHEAD = 2_200_000_000
"""Seconds: a browser has the machine's clock, not that of the run."""
READY = "async () => document.body?.dataset.ready === 'yes'"
KEPT_ITSELF = """async () => {
  const pages = await caches.open("studbay-walk-pages-1");
  const files = await caches.open("studbay-walk-files-1");
  const every = performance.getEntriesByType("resource");
  const ours = every.filter((each) => each.name.includes("/static/"));
  const found = await Promise.all(ours.map((each) => files.match(each.name)));
  return Boolean(await pages.match(location.href)) && found.every(Boolean);
}"""
"""Whether the browser has the page and its files for a start without signal."""
UNSENT = "async () => Number(document.querySelector('#unsafe').dataset.count)"
UNSENT_ARE = "async (n) => document.querySelector('#unsafe').dataset.count === String(n)"
QUOTA_IS = "async (words) => document.querySelector('#quota').textContent === words"
CARDS = (
    """async () => [...document.querySelectorAll("#items .room-card")].map((c) => c.dataset.card)"""
)
LOOKS = """async () => {
  const { keptJob } = await import("/static/js/walk/store.js");
  const { rooms } = await keptJob(document.body.dataset.person, document.body.dataset.job);
  const looks = rooms[0].items.filter((item) => item.verdict === "verify");
  return looks.map((item) => [item.id, Boolean(item.measure)]);
}"""
OPENED = f"async (id) => ({OPEN})(id)"
DOWN = """async () => {
  const end = () => scrollY + innerHeight >= document.documentElement.scrollHeight - 2;
  for (let sweeps = 0; !end() && sweeps < 200; sweeps += 1) {
    scrollBy(0, 300);
    await new Promise((then) => setTimeout(then, 60));
  }
  return end();
}"""
GIVEN = "async (id) => document.querySelector(`#item-${id}`)?.textContent ?? ''"
TYPED = "async (id) => document.querySelector(`#item-${id} .tape input`)?.value"


@pytest.fixture
def site():
    made = Site()
    made.start()
    yield made
    made.kill()


@pytest.fixture
def phone(tmp_path):
    screen = Screen()
    made = Phone(screen, tmp_path / "phone")
    made.start()
    yield made
    made.kill()
    screen.end()


def sign_in(phone: Phone, address: str, person) -> None:
    client = Client()
    client.force_login(person)
    given = {"name": "sessionid", "value": client.cookies["sessionid"].value, "path": "/"}
    phone.ask("POST", "/cookie", {"cookie": given | {"expiry": FAR_AHEAD, "httpOnly": True}})


def picture(folder: Path) -> str:
    path = folder / "behind the board.jpg"
    Image.new("RGB", (640, 480), (120, 90, 60)).save(path, "JPEG")
    return str(path)


def open_walk(phone: Phone, site: Site, job) -> None:
    phone.goto(f"{site.address}/walk/{job.id}/")
    phone.until(READY)


def test_nothing_of_a_walk_is_lost_when_the_browser_dies(site, phone, shop, tmp_path) -> None:
    job = shop.roughed_in(HOUSES["short"])
    phone.goto(f"{site.address}/sign-in/")
    sign_in(phone, site.address, shop.member)
    open_walk(phone, site, job)
    phone.until(KEPT_ITSELF)
    phone.picture(SCREENS / "walk-webkit.png")
    cards, looks = phone.run(CARDS), phone.run(LOOKS)
    assert cards == ["boxes", "cables", "own"]
    (first, _), *_ = [look for look in looks if not look[1]]
    (taped, _), *_ = [look for look in looks if look[1]]

    site.kill()  # no signal
    phone.until(OPENED, first)
    phone.type(f"#item-{first} input[type=file]", picture(tmp_path))
    phone.until(UNSENT_ARE, 1)
    phone.tap(f"#item-{first} button.ok")
    phone.until(UNSENT_ARE, 2)
    assert phone.run(DOWN)
    phone.tap("[data-card=cables] > .all")
    phone.until("async () => Number(document.querySelector('#unsafe').dataset.count) > 2")
    waiting = phone.run(UNSENT)
    phone.until(OPENED, taped)
    phone.type(f"#item-{taped} .tape input", '6 1/4"')
    phone.picture(SCREENS / "walk-webkit-answered.png")

    phone.kill()  # the battery is dead
    phone.start()
    open_walk(phone, site, job)
    phone.until(UNSENT_ARE, waiting)
    phone.until(QUOTA_IS, "Photos on this phone: 1.")  # it does not say how much is left
    phone.until(OPENED, first)
    given = phone.run(GIVEN, first)
    assert "OK," in given
    assert "not sent yet" in given
    assert "Photo" in given
    phone.until(OPENED, taped)
    assert phone.run(TYPED, taped) == '6 1/4"'
    phone.picture(SCREENS / "walk-webkit-again.png")
    assert not Observation.objects.filter(item__job=job).exists()

    site.start()
    sign_in(phone, site.address, shop.member)
    phone.tap("#send")
    phone.until(UNSENT_ARE, 0)
    phone.tap("#send")
    assert Photograph.objects.filter(item__job=job).count() == 1
    assert Observation.objects.filter(item__job=job).count() == waiting - 1
    phone.until(OPENED, taped)
    phone.tap(f"#item-{taped} button.ok")
    phone.until(UNSENT_ARE, 1)
    phone.tap("#send")
    phone.until(UNSENT_ARE, 0)
    assert Observation.objects.get(item=taped, measured_typed='6 1/4"').outcome == "ok"
    assert list(record_faults(job.id)) == []
