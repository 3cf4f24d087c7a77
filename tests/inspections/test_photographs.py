"""Photographs: asked for by the shop's own choice, kept for what they show, refused in words."""

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from config.messages.kept import in_english
from inspections.models import Answer, AreaStanding, Photograph
from inspections.services.deficiencies import deficiency_correct, deficiency_photograph
from inspections.services.houses import house_record
from inspections.services.photographs import photograph_add
from jobs.access import NotAllowed
from jobs.services.people import locations_set
from pages.jobs.room_rows import item_address
from tests.inspections.houses import with_length

pytestmark = pytest.mark.django_db
RULE = "communications-separation"


def picture(kind: str = "JPEG", size: tuple[int, int] = (40, 30)) -> bytes:
    output = BytesIO()
    Image.new("RGB", size, "gray").save(output, kind)
    return output.getvalue()


def size_of(content: bytes) -> tuple[int, int]:
    return Image.open(BytesIO(content)).size


def telltale() -> bytes:
    """A picture that lies on its side and tells where, when and by what it was taken."""
    hidden = Image.Exif()
    hidden[0x010F], hidden[0x0112] = "Maker of cameras", 6
    hidden.get_ifd(0x8825)[2] = (53.0, 30.0, 12.0)
    hidden.get_ifd(0x8769)[0x9003] = "2026:03:02 10:00:00"
    output = BytesIO()
    Image.new("RGB", (40, 30), "gray").save(output, "JPEG", exif=hidden, comment=b"from my yard")
    return output.getvalue()


def upload(content: bytes, name: str = "p.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content)


@pytest.fixture
def area(shop, house_bytes):
    shop.shop.photo_rules = [RULE]
    shop.shop.save()
    found = shop.roughed_in(house_bytes).areas.get(code="bedroom")
    shop.look_at(found)
    return found


@pytest.fixture
def item(area):
    return area.items.select_related("job__shop").get(rule=RULE, subject="D7")


def kept() -> set[Path]:
    return {path for path in (settings.VAR / "kept").rglob("*") if path.is_file()}


def held(area) -> list[str]:
    holds = AreaStanding.objects.get(area=area).holds
    return [in_english(hold["says"]) for hold in holds if hold["reason"] == "photograph"]


def test_items_of_the_chosen_rules_hold_until_each_has_its_photograph(shop, area, item) -> None:
    wanted = area.items.filter(rule=RULE, current=True).select_related("job__shop")
    assert held(area) == [f"{len(wanted)} items that will be covered have no photo."]
    for each in wanted:
        photograph_add(shop.member, item=each, upload=upload(picture()))
    assert held(area) == []


def test_a_photograph_belongs_to_what_it_shows(shop, area, item, house_bytes) -> None:
    for each in area.items.filter(rule=RULE, current=True).select_related("job__shop"):
        photograph_add(shop.member, item=each, upload=upload(picture()))
    house_record(shop.lead, job=area.job, house=with_length(house_bytes, "D7", 99_000))
    assert held(area) == ["1 item that will be covered has no photo."]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\0" * 40_000_000, "is 40 MB, maximum 25 MB. Send a smaller one"),
        (b"not a picture", "photo cannot be read"),
        (b"", "photo cannot be read"),
        (picture()[:300], "photo cannot be read"),
        (b"%PDF-1.7 " + picture(), "photo cannot be read"),
        (picture("PNG", (12_000, 9_000)), "over 50 million pixels"),
    ],
    ids=["40 MB", "text", "nothing", "cut off", "another kind", "a bomb"],
)
def test_what_cannot_be_kept_is_refused_in_words_and_leaves_no_file(
    shop, item, content: bytes, words: str
) -> None:
    before = kept()
    with pytest.raises(ValidationError, match=words):
        photograph_add(shop.member, item=item, upload=upload(content))
    assert not shop.own(Photograph).exists()
    assert kept() == before


def test_a_builder_adds_none(shop, item) -> None:
    with pytest.raises(NotAllowed):
        photograph_add(shop.builder, item=item, upload=upload(picture()))


def test_it_is_sent_from_the_page_and_seen_by_the_shops_people_alone(
    client, shop, stranger_shop, item
) -> None:
    client.force_login(shop.member)
    client.post(reverse("photograph", args=[item.id]), {"photograph": upload(picture())})
    photograph = shop.own(Photograph).get()
    url = reverse("photograph-file", args=[photograph.id])
    answer = client.get(url)
    assert size_of(b"".join(answer.streaming_content)) == (40, 30)
    assert url in client.get(item_address(item)).text
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(url).status_code == 404
    client.force_login(shop.member)
    text = client.post(reverse("photograph", args=[item.id]), follow=True).text
    assert "Choose a photo first." in text


@pytest.fixture
def deficiency(shop, area):
    shop.accept(area, Answer.NOT_ACCEPTED, called=("no plate at the notch",))
    return area.deficiencies.select_related("job__shop", "area").get()


def test_a_deficiency_is_pictured_before_and_after(client, shop, deficiency) -> None:
    before = deficiency_photograph(shop.lead, deficiency=deficiency, upload=upload(picture()))
    deficiency_correct(shop.lead, deficiency=deficiency)
    client.force_login(shop.member)
    url = reverse("deficiency-photograph", args=[deficiency.id])
    text = client.post(url, {"photograph": upload(picture("PNG"))}, follow=True).text
    assert "photo, before it was mended" in text
    assert "photo, after it was mended" in text
    assert [each.moment for each in deficiency.photographs.all()] == ["before", "after"]
    file = reverse("deficiency-photograph-file", args=[before.id])
    assert size_of(b"".join(client.get(file))) == (40, 30)
    client.force_login(shop.builder)
    assert client.get(file).status_code == 404


def test_what_is_no_picture_of_a_deficiency_leaves_nothing(shop, deficiency) -> None:
    files, entries = kept(), deficiency.job.record.count()
    with pytest.raises(ValidationError, match="cannot be read"):
        deficiency_photograph(shop.lead, deficiency=deficiency, upload=upload(b"words"))
    with pytest.raises(NotAllowed):
        deficiency_photograph(shop.builder, deficiency=deficiency, upload=upload(picture()))
    assert (kept(), deficiency.job.record.count()) == (files, entries)


def exif_of(content: bytes) -> tuple[dict[int, Any], dict[int, Any], dict[int, Any]]:
    there = Image.open(BytesIO(content)).getexif()
    return dict(there), dict(there.get_ifd(0x8825)), dict(there.get_ifd(0x8769))


def test_what_a_camera_hides_is_taken_out_and_the_picture_stands_upright(shop, item) -> None:
    photograph = photograph_add(shop.member, item=item, upload=upload(telltale()))
    content = photograph.file.read()
    assert size_of(content) == (30, 40)
    assert exif_of(content) == ({}, {}, {})
    assert b"from my yard" not in content
    assert b"Maker" not in content


def test_a_shop_that_keeps_locations_keeps_place_and_time_alone(shop, item) -> None:
    locations_set(shop.office, shop=shop.shop, keep=True)
    item.refresh_from_db()
    photograph = photograph_add(shop.member, item=item, upload=upload(telltale()))
    content = photograph.file.read()
    _, place, more = exif_of(content)
    assert place == {2: (53.0, 30.0, 12.0)}
    assert more[0x9003] == "2026:03:02 10:00:00"
    assert b"Maker" not in content
    with pytest.raises(NotAllowed):
        locations_set(shop.lead, shop=shop.shop, keep=False)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_each_kind_stays_what_it_is(shop, item, kind) -> None:
    photograph = photograph_add(shop.member, item=item, upload=upload(picture(kind)))
    assert Image.open(BytesIO(photograph.file.read())).format == kind
