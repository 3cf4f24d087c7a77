"""The page of a job: one next step, four counts, the plan, and lines room by room."""

import gzip
import json
import re
from collections import Counter
from html import unescape
from pathlib import Path

import pytest
from django.urls import reverse

from inspections.models import Item
from inspections.overview.line_states import LineState, line_state
from inspections.overview.open_lines import open_lines
from inspections.selectors import checklist, latest_revision
from inspections.standing import hold_messages, move_messages
from pages.jobs.next_step import PLACES
from tests.inspections.tiny import HOUSES
from tests.sure import sure

pytestmark = pytest.mark.django_db
TEMPLATES = Path(__file__).resolve().parents[3] / "templates"
NUMBERED = re.compile(r'data-number="(\d+)"')
SHOWN = re.compile(r'id="item-([0-9a-f-]+)"')


@pytest.fixture
def planted(shop, planted_bytes):
    return shop.roughed_in(planted_bytes)


def page_of(client, job, **query: str) -> str:
    page: str = client.get(reverse("job", args=[job.id]), query).text
    return page


def lines_of(job):
    return checklist(job, stage=Item.Stage.ROUGH_IN)


def test_the_next_step_of_a_lead_opens_the_first_line_that_is_not_to_code(
    client, shop, planted
) -> None:
    client.force_login(shop.lead)
    page = page_of(client, planted)
    href = unescape(re.findall(r'class="next" href="([^"]+)"', page)[0])
    lines = [each for each in lines_of(planted) if line_state(each) is LineState.NOT_TO_CODE]
    first = lines[0].item
    assert href.endswith(f"#item-{first.id}")
    opened = client.get(href).text
    assert reverse("observe", args=[first.id]) in opened
    assert f'id="item-{first.id}" data-number="1" open' in opened
    assert opened.count('name="outcome"') == 1  # no other card is on the page


def test_the_next_step_of_the_office_is_what_the_office_alone_does(client, shop) -> None:
    job = shop.roughed_in(HOUSES["clean"], issued=False)
    client.force_login(shop.office)
    assert 'class="next" href="#permit"' in page_of(client, job)


def test_every_step_that_there_is_has_its_place_on_the_page() -> None:
    shown = "".join(each.read_text() for each in TEMPLATES.glob("jobs/**/*.html"))
    for _, place in PLACES:
        assert f'id="{place}"' in shown
    begins = tuple(each for each, _ in PLACES)
    lifts = [each.id for each in vars(hold_messages).values() if ".lift" in getattr(each, "id", "")]
    of_lines = ("holds.failing", "holds.unknown", "holds.open", "holds.confirm", "holds.photo")
    for id in lifts:
        assert id.startswith((*begins, *of_lines, "holds.trade"))
    for each in vars(move_messages).values():
        if getattr(each, "id", "").startswith("moves."):
            assert each.id.startswith(begins)


def test_counts_are_of_the_lines_and_filter_them(client, shop, planted) -> None:
    client.force_login(shop.member)
    states = Counter(line_state(line) for line in lines_of(planted))
    answer = client.get(reverse("job", args=[planted.id]))
    assert {each.key: each.n for each in answer.context["counts"]} == states
    for state in (LineState.NOT_TO_CODE, LineState.INFO_NEEDED):
        page = page_of(client, planted, show=state)
        wanted = {str(each.item.id) for each in lines_of(planted) if line_state(each) is state}
        assert set(SHOWN.findall(page)) == wanted
        assert f'class="{state}" href="/jobs/{planted.id}/?#lines" aria-current="true"' in page


def test_so_many_lines_that_nobody_reads_them_come_room_by_room(client, shop, planted) -> None:
    client.force_login(shop.member)
    page = page_of(client, planted, show="verify")
    assert not SHOWN.findall(page)
    room = re.findall(r'hx-get="(/jobs/[^"]+/room/[^"]+)"', page)[0]
    part = client.get(unescape(room), headers={"HX-Request": "true"}).text
    assert "<html" not in part
    shown = Item.objects.filter(id__in=SHOWN.findall(part))
    assert shown
    assert {item.verdict for item in shown} == {"verify"}


def test_what_is_searched_for_is_found_in_what_lines_say(client, shop, planted) -> None:
    client.force_login(shop.member)
    page = page_of(client, planted, q="r16")
    found = Item.objects.filter(id__in=SHOWN.findall(page))
    assert found
    assert all("R16" in str(item.finding) for item in found)
    assert not SHOWN.findall(page_of(client, planted, q="no such box anywhere"))
    headers = {"HX-Request": "true", "HX-Target": "lines"}
    part = client.get(reverse("job", args=[planted.id]), {"q": "r16"}, headers=headers).text
    assert part.lstrip().startswith('<section id="lines"')
    assert set(SHOWN.findall(part)) == set(SHOWN.findall(page))


def test_a_topic_leaves_the_lines_of_its_rules(client, shop, planted) -> None:
    client.force_login(shop.member)
    page = page_of(client, planted, topic="boxes", show="not_to_code")
    items = Item.objects.filter(id__in=SHOWN.findall(page))
    assert {item.finding["topic"] for item in items} == {"boxes"}


def test_lines_have_one_number_on_the_plan_and_in_the_list(client, shop, planted) -> None:
    client.force_login(shop.lead)
    numbers = {str(each.number) for each in open_lines(lines_of(planted))}
    listed = []
    for state in ("not_to_code", "info_needed"):
        listed += NUMBERED.findall(page_of(client, planted, show=state))
    assert sorted(listed) == sorted(numbers)
    plan = page_of(client, planted).partition("<svg")[2].partition('<section id="lines"')[0]
    drawn = set()
    for each in re.findall(r'data-lines="([\d ]+)"', plan):
        drawn |= set(each.split())
    assert len(drawn) > len(numbers) / 2
    assert drawn <= numbers


def test_the_page_of_a_house_with_many_defects_is_small(client, shop, planted) -> None:
    """Bytes and elements that a phone reads before anything is opened."""
    client.force_login(shop.office)
    page = client.get(reverse("job", args=[planted.id])).content
    assert len(page) <= 90_000
    assert len(gzip.compress(page)) <= 30_000
    assert len(re.findall(rb"<[a-z]", page)) <= 2_000


def test_what_an_address_asks_for_that_is_none_is_left_out(client, shop, planted) -> None:
    client.force_login(shop.lead)
    plain = Counter(SHOWN.findall(page_of(client, planted)))
    page = page_of(client, planted, show="everything", room="attic", item="0", storey="-1")
    assert Counter(SHOWN.findall(page)) == plain
    room = reverse("job-room", args=[planted.id])
    assert client.get(room, {"room": "attic"}).status_code == 404
    assert client.get(room).headers["Location"] == reverse("job", args=[planted.id])


def test_only_the_shops_own_people_see_a_room(client, shop, stranger_shop, planted) -> None:
    room = str(lines_of(planted)[0].item.finding["room"])
    address = reverse("job-room", args=[planted.id])
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(address, {"room": room}).status_code == 404
    client.force_login(shop.member)
    assert client.get(address, {"room": room}).status_code == 200


def test_a_box_tells_its_circuits_with_their_runs(client, shop, stranger_shop, planted) -> None:
    address = reverse("job-runs", args=[planted.id])
    client.force_login(shop.lead)
    assert client.get(address, {"storey": "attic"}).json() == []
    runs = client.get(address, {"storey": "main"}).json()
    house = json.loads(sure(latest_revision(planted)).house)
    cable = next(each for each in house["cables"] if each["circuit"])
    (run,) = [each for each in runs if cable["ends"][1] in each["nodes"]]
    circuit = next(each for each in house["circuits"] if each["id"] == cable["circuit"])
    assert run["words"].endswith(circuit["name"])
    assert run["path"].startswith("M")
    for person in (shop.builder, stranger_shop.office):
        client.force_login(person)
        assert client.get(address, {"storey": "main"}).status_code == 404


def test_finish_is_folded_until_its_time(client, shop, planted) -> None:
    client.force_login(shop.lead)
    assert '<details class="later"><summary>' in page_of(client, planted)
    finish = checklist(planted, stage=Item.Stage.FINISH)[0].item
    page = page_of(client, planted, room=str(finish.finding["room"]), stage="finish")
    assert '<details class="later" open>' in page
    assert f'id="item-{finish.id}"' in page


def test_a_job_without_a_house_says_so(client, shop) -> None:
    client.force_login(shop.office)
    page = page_of(client, shop.job())
    assert 'id="house"' in page
    assert '<svg class="plan' not in page
