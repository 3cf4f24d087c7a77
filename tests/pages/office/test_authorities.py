"""The office edits an authority; nobody else does."""

import pytest
from django.urls import reverse

from inspections.overview.inspections import earliest_inspection_of

pytestmark = pytest.mark.django_db
GIVEN = {
    "name": "Town office",
    "notice_days": 2,
    "notice_hours": 0,
    "cut_off": "14:00",
    "works_on": [0, 1, 2, 3, 4],
    "inspections_on": [0, 2],
    "from_hour": "09:00",
    "to_hour": "15:00",
    "country": "CA",
    "region": "AB",
    "closures": "2026-12-24 staff day\n\n2026-12-31",
    "takes_parts": "on",
}


def edit(client, shop, **change):
    client.force_login(shop.office)
    url = reverse("authority", args=[shop.authority.id])
    return client.post(url, GIVEN | change)


def test_what_is_kept_is_what_the_next_inspection_follows_from(client, shop) -> None:
    assert edit(client, shop).headers["Location"] == "/authorities/"
    shop.authority.refresh_from_db()
    assert shop.authority.inspections_on == [0, 2]
    assert shop.authority.closures == {"2026-12-24": "staff day", "2026-12-31": ""}
    assert shop.authority.elapsed_hours is None
    assert earliest_inspection_of(shop.job()).starts.hour == 9
    text = client.get(reverse("authority", args=[shop.authority.id])).text
    assert "2026-12-24 staff day" in text
    assert "None is presumed to be yours" in text
    job = shop.job()
    url = reverse("authority", args=[shop.authority.id])
    assert url in client.get(reverse("job", args=[job.id])).text
    client.force_login(shop.lead)
    assert url not in client.get(reverse("job", args=[job.id])).text


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"closures": "Christmas"}, "does not begin with a date"),
        ({"inspections_on": []}, "This field is required"),
        ({"notice_days": -1}, "greater than or equal to 0"),
        ({"from_hour": "16:00"}, "The hours of inspections end before they begin."),
    ],
)
def test_a_fault_is_said_and_nothing_is_kept(client, shop, change, words: str) -> None:
    assert words in edit(client, shop, **change).text
    shop.authority.refresh_from_db()
    assert shop.authority.name == "Inspection office"


@pytest.mark.parametrize("who", ["lead", "member", "builder"])
def test_only_the_office_finds_it(client, shop, stranger_shop, who) -> None:
    url = reverse("authority", args=[shop.authority.id])
    for person in (getattr(shop, who), stranger_shop.office):
        client.force_login(person)
        assert client.get(url).status_code == 404
        assert url not in client.get("/authorities/").text


@pytest.mark.parametrize(
    ("page", "labels"),
    [
        ("authority", ("Office open on", "Other days closed, one per line")),
        ("work-rules", ("Shop open on", "Other days closed, one per line", "Rates, one per line")),
    ],
)
def test_a_field_of_its_own_kind_is_asked_by_its_own_label(client, shop, page, labels) -> None:
    client.force_login(shop.office)
    given = [shop.authority.id] if page == "authority" else []
    text = client.get(reverse(page, args=given)).text
    for label in labels:
        assert label in text
    assert "Works on" not in text
