"""The photographs of a job on its plan: each at its place, for the shop's own people."""

import pytest
from django.urls import reverse

from inspections.models import Photograph
from inspections.services.photographs import photograph_add
from tests.inspections.test_photographs import picture, upload

pytestmark = pytest.mark.django_db


@pytest.fixture
def planted(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def taken(shop, job, *subjects: str) -> list[Photograph]:
    made = []
    for subject in subjects:
        item = job.items.filter(subject=subject, current=True).first()
        made.append(photograph_add(shop.lead, item=item, upload=upload(picture())))
    return made


def test_each_lies_where_its_box_is_with_who_took_it_and_when(client, shop, planted) -> None:
    address = reverse("job-photographs", args=[planted.id])
    client.force_login(shop.lead)
    assert client.get(address, {"storey": "main"}).json() == []
    first, second, third = taken(shop, planted, "R22", "R22", "R16")
    places = client.get(address, {"storey": "main"}).json()
    files = [[each["address"] for each in place["photographs"]] for place in places]
    named = [[reverse("photograph-file", args=[each.id])] for each in (third,)]
    both = [reverse("photograph-file", args=[each.id]) for each in (second, first)]
    assert sorted(files) == sorted([*named, both])
    assert len({(place["x"], place["y"]) for place in places}) == 2
    words = places[0]["photographs"][0]["words"]
    assert str(shop.lead) in words
    assert client.get(address, {"storey": "attic"}).json() == []
    assert client.get(address).json() == []


def test_a_photograph_of_what_is_gone_is_in_its_room(client, shop, planted) -> None:
    (photograph,) = taken(shop, planted, "R22")
    item = photograph.item
    item.subject = "gone"
    item.save()
    client.force_login(shop.member)
    address = reverse("job-photographs", args=[planted.id])
    (place,) = client.get(address, {"storey": "main"}).json()
    assert len(place["photographs"]) == 1


def test_nobody_else_is_told_of_them(client, shop, stranger_shop, planted) -> None:
    taken(shop, planted, "R22")
    address = reverse("job-photographs", args=[planted.id])
    for person in (shop.builder, stranger_shop.lead):
        client.force_login(person)
        assert client.get(address, {"storey": "main"}).status_code == 404


def test_a_job_without_a_house_has_no_place_for_them(client, shop) -> None:
    client.force_login(shop.lead)
    job = shop.job()
    address = reverse("job-photographs", args=[job.id])
    assert client.get(address, {"storey": "main"}).json() == []
