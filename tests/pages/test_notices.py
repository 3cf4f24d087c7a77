"""Wishes, a job's notices with who has seen what, the office's list, links without sign-in."""

from datetime import timedelta

import pytest
from django.core import signing
from django.urls import reverse
from django.utils import timezone

from config.languages import say
from inspections.services.cover_releases import cover_release_issue, cover_release_withdraw
from inspections.services.settling import job_settle
from notifications.links import seen_link, stop_link
from notifications.models import (
    Address,
    Channel,
    Delivery,
    Feed,
    Gateway,
    Habits,
    Notice,
    NoticeRules,
    State,
    Wish,
)
from notifications.services.escalation import escalate, escalations_due
from notifications.services.outbox import address_pause, dead
from notifications.services.wishes import address_add
from tests.clocks import HOUSE
from tests.inspections.tiny import HOUSES
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db


@pytest.fixture
def area(shop):
    return shop.roughed_in(HOUSES["clean"]).areas.get(code="east")


def reach(person, shop, target: str) -> Address:
    return address_add(
        shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
    )


def told(shop, area) -> Notice:
    """An urgent notice for the builder: the cover release is withdrawn."""
    shop.release(area)
    cover_release_withdraw(shop.office, area=area, because="cable moved")
    job_settle(area.job_id)
    return Notice.objects.get(person=shop.builder, reason="cover release withdrawn")


def path(link: str) -> str:
    return "/" + link.split("/", 3)[3]


def test_a_person_sets_addresses_hours_and_wishes(client, shop) -> None:
    client.force_login(shop.lead)
    client.post(reverse("address-new"), {"channel": "email", "target": "lead@example.org"})
    hook = {"channel": "webhook", "target": "https://example.org/hook"}
    page = client.post(reverse("address-new"), hook, follow=True).text
    assert "Signing secret, shown only once: whsec_" in page
    hours = {"time_zone": "America/Halifax", "quiet_from": "21:00", "quiet_to": "06:30"}
    client.post(reverse("habits"), hours)
    client.post(reverse("wish"), {"way-inspection": "webhook", "at-once-inspection": "on"})
    page = client.get(reverse("wishes")).text
    assert "lead@example.org" in page
    assert "whsec_" not in page
    assert sure(Habits.objects.get(person=shop.lead).quiet_from).hour == 21
    wish = Wish.objects.get(person=shop.lead, kind="inspection")
    assert (wish.way, wish.at_once) == ("webhook", True)


@pytest.mark.parametrize(
    ("url", "given", "says"),
    [
        ("address-new", {"channel": "email", "target": "x@y.org\nBcc: z@y.org"}, "one line"),
        (
            "address-new",
            {"channel": "message", "target": "+1"},
            "Choose the gateway for the message",
        ),
        ("habits", {"time_zone": "America/Halifax", "quiet_from": "21:00"}, "both ends"),
        ("habits", {"time_zone": "Nowhere"}, "My time zone"),
    ],
)
def test_what_cannot_be_is_refused_with_the_reason(client, shop, url, given, says) -> None:
    client.force_login(shop.lead)
    page = client.post(reverse(url), given, follow=True).text
    assert says in page
    assert not shop.own(Address).exists()
    assert not Habits.objects.filter(person=shop.lead).exists()


def test_nobody_changes_anothers_address(client, shop, stranger_shop) -> None:
    address = reach(shop.lead, shop, "lead@example.org")
    for person, status in ((shop.member, 404), (stranger_shop.office, 404), (shop.office, 302)):
        client.force_login(person)
        assert client.post(reverse("address-change", args=[address.id])).status_code == status
    assert not Address.objects.filter(id=address.id).exists()


def test_a_link_says_seen_by_one_tap_and_not_by_being_opened(client, shop, area) -> None:
    notice = told(shop, area)
    link = path(seen_link(notice.id))
    assert "Mark as seen" in client.get(link).text
    notice.refresh_from_db()
    assert notice.seen_at is None
    assert "Seen by Builder Tester" in client.post(link).text
    notice.refresh_from_db()
    assert notice.seen_at is not None
    assert client.get(link.replace("/seen/", "/seen/x")).status_code == 404
    assert "not complete" in client.get("/seen/abc/").text


def test_an_old_link_says_so(client, shop, area, monkeypatch) -> None:
    link = path(seen_link(told(shop, area).id))
    monkeypatch.setattr("notifications.links.MONTH", -1)
    monkeypatch.setattr("notifications.links._opened.__defaults__", (-1,))
    assert "more than a month old" in client.get(link).text


def test_a_stop_link_needs_no_sign_in(client, shop) -> None:
    address = reach(shop.builder, shop, "builder@example.org")
    link = path(stop_link(address.id, "cover"))
    assert "Stop these messages?" in client.get(link).text
    assert not Wish.objects.filter(person=shop.builder).exists()
    client.post(link, {"List-Unsubscribe": "One-Click"})
    assert Wish.objects.get(person=shop.builder, kind="cover").way == Wish.Way.NOT


@pytest.mark.parametrize("inside", [["no id", "cover"], ["kind"], "text", 7, None, [[], {}]])
def test_a_link_of_a_kind_or_an_address_that_is_none_says_so(client, db, inside) -> None:
    for salt, path_of in (("notice stop", "notice-stop"), ("notice seen", "notice-seen")):
        link = reverse(path_of, args=[signing.dumps(inside, salt=salt)])
        for answer in (client.get(link), client.post(link)):
            assert (answer.status_code, "Link not valid" in answer.text) == (404, True)


def test_messages_of_a_kind_that_is_no_more_are_said_to_have_ended(client, shop) -> None:
    address = reach(shop.builder, shop, "pat@pellow.example")
    link = path(stop_link(address.id, "carrier pigeons"))
    for answer in (client.get(link), client.post(link)):
        assert (answer.status_code, "no longer sent" in answer.text) == (404, True)


@pytest.mark.every_clock
def test_a_jobs_notices_show_who_has_seen_what(client, shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    notice = told(shop, area)
    client.post(path(seen_link(notice.id)))
    client.force_login(shop.office)
    page = client.get(reverse("job-notices", args=[area.job_id])).text
    assert "DO NOT COVER. The cover release is withdrawn: cable moved" in page
    assert page.count("not seen") > 0
    assert f"seen {notice.due_at.astimezone(HOUSE):%Y}" in page
    client.force_login(shop.builder)
    assert client.get(reverse("job-notices", args=[area.job_id])).status_code == 404


def test_an_urgent_notice_goes_on_until_somebody_answers(client, shop, area, monkeypatch) -> None:
    for target in ("first@example.org", "second@example.org"):
        reach(shop.builder, shop, target)
    notice = told(shop, area)
    other = shop.person("deputy", "office")

    def later(minutes: int) -> list[str]:
        """What went out in all, that long after."""
        Notice.objects.filter(escalate_at__isnull=False).update(
            escalate_at=timezone.now() - timedelta(seconds=1)
        )
        for notice_id in escalations_due():
            escalate(notice_id)
        found = Delivery.objects.filter(notices=notice).order_by("step")
        return [each.address.target for each in found.select_related("address")]

    assert later(15) == ["first@example.org", "second@example.org"]
    shop.own(Notice).exclude(id=notice.id).update(escalate_at=None)
    later(30)
    handed = Notice.objects.get(handed_from=notice)
    assert handed.person == other
    assert say(handed.text).startswith("Builder Tester has not answered: ")
    client.force_login(shop.office)
    assert "(for Builder Tester)" in client.get(reverse("job-notices", args=[area.job_id])).text
    client.post(path(seen_link(notice.id)))
    handed.refresh_from_db()
    assert handed.escalate_at is None


def test_a_withdrawn_cover_release_that_is_released_again_goes_on_to_nobody(shop, area) -> None:
    notice = told(shop, area)
    assert notice.escalate_at is not None
    shop.answer_withdrawal(area)
    cover_release_issue(shop.office, area=area)
    job_settle(area.job_id)
    notice.refresh_from_db()
    assert notice.moot_at is not None
    assert notice.escalate_at is None


def test_the_office_sees_what_did_not_arrive_and_corrects_it(client, shop, area) -> None:
    address = reach(shop.builder, shop, "builder@example.org")
    told(shop, area)
    dead(the_first(Delivery.objects.filter(person=shop.builder)), "the mail server answered 554")
    address_pause(address.id, "the mail server answered 550: no such mailbox")
    client.force_login(shop.office)
    page = client.get(reverse("notice-office")).text
    assert "550: no such mailbox" in page
    assert "554" in page
    delivery = the_first(Delivery.objects.filter(state=State.DEAD))
    page = client.post(reverse("delivery-retry", args=[delivery.id]), follow=True).text
    assert "Resume it first" in page
    client.post(reverse("address-change", args=[address.id]), {"resume": "", "office": "1"})
    client.post(reverse("delivery-retry", args=[delivery.id]))
    delivery.refresh_from_db()
    assert delivery.state == State.DUE


def test_only_the_office_sees_and_sets_the_shops(client, shop, stranger_shop) -> None:
    rules = {
        "morning": "06:30",
        "list_at": "15:00",
        "permit_wait_days": 10,
        "acknowledge_minutes": 5,
        "permit_days": "20, 5",
        "cover_days": "3 1",
        "owner": str(shop.office.id),
        "summary_on": "4",
    }
    client.force_login(shop.lead)
    assert client.post(reverse("notice-office"), rules).status_code == 404
    client.force_login(shop.office)
    client.post(reverse("notice-office"), rules)
    kept = NoticeRules.objects.get(shop=shop.shop)
    assert (kept.acknowledge_minutes, kept.morning.minute) == (5, 30)
    assert (kept.permit_days, kept.cover_days) == ([20, 5], [3, 1])
    assert (kept.owner, kept.summary_on) == (shop.office, 4)
    assert 'value="20, 5"' in client.get(reverse("notice-office")).text
    assert NoticeRules.objects.get(shop=stranger_shop.shop).acknowledge_minutes == 15
    page = client.post(reverse("notice-office"), rules | {"permit_wait_days": 0}).text
    assert "greater than or equal to 1" in page
    assert "as 30, 14, 7" in client.post(reverse("notice-office"), rules | {"cover_days": "x"}).text
    page = client.post(reverse("notice-office"), rules | {"cover_days": "1, 3"}).text
    assert "the most first" in page
    other = rules | {"owner": str(stranger_shop.office.id)}
    assert "not one of the available choices" in client.post(reverse("notice-office"), other).text
    kept.refresh_from_db()
    assert (kept.owner, kept.cover_days) == (shop.office, [3, 1])


def test_a_gateway_that_cannot_be_sent_through_is_refused(client, shop) -> None:
    client.force_login(shop.office)
    given = {"name": "texts", "kind": "chat", "secret": "a-token-of-tests"}
    page = client.post(
        reverse("gateway-new"), given | {"url": "mailto://us@gate.example?smtp=10.0.0.8"}
    ).text
    assert "address must begin with https://; mailto:// is not offered" in page
    assert "a-token-of-tests" not in page
    client.post(reverse("gateway-new"), given | {"url": "https://gate.example/{to}"})
    assert shop.own(Gateway).get().name == "texts"


def test_a_calendar_opens_by_its_link_until_it_is_withdrawn(client, shop, area) -> None:
    shop.look_at(area)
    shop.booked(area)
    client.force_login(shop.builder)
    client.post(reverse("feed-new"))
    feed = shop.own(Feed).get()
    client.logout()
    answer = client.get(reverse("calendar", args=[feed.token]))
    assert answer["Content-Type"].startswith("text/calendar")
    assert "BEGIN:VEVENT" in answer.text
    client.force_login(shop.other_builder)
    assert client.post(reverse("feed-end", args=[feed.id])).status_code == 404
    client.force_login(shop.builder)
    client.post(reverse("feed-end", args=[feed.id]))
    assert client.get(reverse("calendar", args=[feed.token])).status_code == 404


def test_a_calendar_shows_what_its_maker_may_see(client, shop, area) -> None:
    shop.look_at(area)
    shop.booked(area)
    client.force_login(shop.other_builder)
    client.post(reverse("feed-new"))
    page = client.get(reverse("calendar", args=[shop.own(Feed).get().token])).text
    assert "BEGIN:VEVENT" not in page
    answer = client.post(reverse("feed-new"), {"job": str(area.job_id)})
    assert answer.status_code == 404
