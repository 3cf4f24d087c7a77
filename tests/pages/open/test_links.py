"""Links and placards: one thing each, read anew each time, gone when taken back."""

from datetime import timedelta
from io import BytesIO

import pytest
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from inspections.models import Link
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.links import cover_link_make, link_withdraw, placard_make
from jobs.access import NotAllowed
from tests.inspections.tiny import HOUSES

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop):
    return shop.roughed_in(HOUSES["clean"])


@pytest.fixture
def area(job):
    return job.areas.select_related("job__shop", "job__authority").get(code="east")


@pytest.fixture
def made(shop, job):
    return cover_link_make(shop.office, job=job, for_whom="Drywall crew")


def look(client, secret: str, **headers):
    return client.get(reverse("link", args=[secret]), headers=headers)


def test_a_link_shows_the_cover_without_an_account(client, shop, area, made) -> None:
    text = look(client, made[1]).text
    assert text.count("Do not cover.") == 2
    assert "<form" in text
    assert "<small>revision</small>" not in text  # it is not asked for on a page that is polled
    shop.release(area)
    part = look(client, made[1], **{"HX-Request": "true"}).text
    assert part.count("OK to cover this area.") == 1
    assert "<html" not in part
    assert reverse("trade", args=[area.job_id]) not in part


def test_only_a_digest_of_the_secret_is_kept(made) -> None:
    link, secret = made
    assert secret not in repr(Link.objects.values().get(id=link.id))
    assert len(secret) >= 26
    assert link.digest != secret


def test_a_link_that_ran_out_or_was_withdrawn_says_so(client, shop, made) -> None:
    link, secret = made
    shop.own(Link).update(expires_at=timezone.now() - timedelta(minutes=1))
    gone = look(client, secret)
    assert gone.status_code == 410
    assert "This link expired on" in gone.text
    shop.own(Link).update(expires_at=timezone.now() + timedelta(days=1))
    assert look(client, secret).status_code == 200
    link_withdraw(shop.office, link=link)
    assert "withdrew this link" in look(client, secret).text
    assert look(client, "nobody-made-this").status_code == 404


def test_whoever_holds_it_can_say_that_it_was_seen(client, made) -> None:
    link, secret = made
    url = reverse("link-acknowledge", args=[secret])
    assert "last seen" in client.post(url, follow=True).text
    link.refresh_from_db()
    assert link.acknowledged_at is not None


def test_the_office_makes_and_withdraws_on_the_page(client, shop, job) -> None:
    client.force_login(shop.office)
    url = reverse("link-make", args=[job.id])
    text = client.post(url, {"for_whom": "Board crew", "days": "30"}, follow=True).text
    assert "shown only once: http://testserver/l/" in text
    link = shop.own(Link).get()
    text = client.post(reverse("link-withdraw", args=[link.id]), follow=True).text
    assert "withdrawn" in text
    for given in (
        {"for_whom": " "},
        {"for_whom": "x", "days": "900"},
        {"for_whom": "x", "days": "?"},
    ):
        client.post(url, given)
    assert shop.own(Link).count() == 1


def test_who_may_make_and_withdraw(shop, job, made, stranger_shop) -> None:
    for person in (shop.lead, shop.builder, stranger_shop.office):
        with pytest.raises(NotAllowed):
            cover_link_make(person, job=job, for_whom="me")
        with pytest.raises(NotAllowed):
            link_withdraw(person, link=made[0])
    with pytest.raises(ValidationError, match="valid: 1 to 400"):
        cover_link_make(shop.office, job=job, for_whom="me", days=401)


def test_a_placard_tells_the_state_and_never_holds_it(client, shop, area) -> None:
    _, secret = placard_make(shop.member, area=area)
    assert "It has never been released." in look(client, secret).text
    shop.release(area, reference="R9")
    text = look(client, secret).text
    assert "OK to cover since" in text
    assert "reference R9" in text


def test_a_placard_of_another_cover_release_says_so_in_large(client, shop, area) -> None:
    shop.release(area, reference="R1")
    _, secret = placard_make(shop.lead, area=area)
    assert "placard-warning" not in look(client, secret).text
    cover_release_withdraw(shop.office, area=area, because="a light was added")
    text = look(client, secret).text
    assert "The cover release on this placard was withdrawn." in text
    assert "Do not cover." in text
    shop.answer_withdrawal(area)
    shop.release(area, reference="R2")
    text = look(client, secret).text
    assert "a new one issued. Print a new placard." in text
    assert "reference R2" in text


def test_the_paper_carries_the_address_and_no_answer(client, shop, area) -> None:
    shop.release(area)
    client.force_login(shop.member)
    answer = client.post(reverse("placard", args=[area.id]))
    page = PdfReader(BytesIO(answer.content)).pages[0].extract_text()
    assert "http://testserver/l/" in page
    assert "Scan before you cover" in page
    assert "CLEAR" not in page.upper().split()
    client.force_login(shop.builder)
    assert client.post(reverse("placard", args=[area.id])).status_code == 403
