"""From a notice to a mailbox: a real mail server, what moots, what fails, what is tried again."""

from datetime import UTC, datetime, time, timedelta
from email import message_from_bytes, policy
from itertools import pairwise
from pathlib import Path

import pytest
from django.core.exceptions import ValidationError

from config.languages import say
from inspections.models import Happening
from inspections.services.cover_releases import cover_release_withdraw
from inspections.services.inspections import inspection_happen
from inspections.services.settling import job_settle
from jobs.secrets import digest_of
from notifications import rendering
from notifications.channels.email import message_id
from notifications.channels.mail_files import file_of
from notifications.models import Address, Channel, Delivery, Lane, Notice, State, Try
from notifications.rendering import in_one_line, message_text
from notifications.services import outbox
from notifications.services.notices import notice_see
from notifications.services.outbox import MOST_TRIES, delivery_retry, take, wait_before
from notifications.services.sending import deliver
from notifications.services.wishes import (
    address_add,
    address_resume,
    habits_set,
    stop_kind,
    wish_set,
)
from tests.clock import Clock
from tests.inspections.tiny import HOUSES
from tests.notifications.mail_sink import mail_sink
from tests.servers import free_port
from tests.sure import sure, the_first

pytestmark = pytest.mark.django_db

NOON = datetime(2026, 3, 2, 19, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def sink(tmp_path_factory):
    """A mail server of this module's, and the file of what it took on."""
    path = tmp_path_factory.mktemp("mail") / "taken"
    port = free_port()
    with mail_sink(port, path):
        yield port, path


@pytest.fixture
def smtp(sink, settings):
    """Messages go to the real server; a function that gives what it took since."""
    port, path = sink
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", port
    before = len(path.read_text().splitlines())
    return lambda: [line.split() for line in path.read_text().splitlines()[before:]]


@pytest.fixture
def clock(monkeypatch) -> Clock:
    return Clock(NOON).put(monkeypatch)


@pytest.fixture
def area(clock, shop):
    return shop.roughed_in(HOUSES["clean"]).areas.get(code="east")


def reach(person, shop, target: str) -> Address:
    return address_add(
        shop.office, person=person, shop=shop.shop, channel=Channel.EMAIL, target=target
    )


def send_all() -> int:
    return sum(deliver(lane, Channel.EMAIL) for lane in Lane)


def test_a_notice_arrives_once_with_a_message_id_of_its_own(smtp, shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    assert send_all() == Delivery.objects.filter(person=shop.builder).count() > 0
    assert send_all() == 0
    taken = smtp()
    assert sorted(taken) == sorted(
        [message_id(d), "builder@example.org"] for d in shop.own(Delivery)
    )
    assert set(shop.own(Delivery).values_list("state", flat=True)) == {State.SENT}


def test_a_second_try_has_the_same_message_id(smtp, clock, shop, area) -> None:
    address = reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    first = take(Lane.ORDINARY, Channel.EMAIL)
    assert take(Lane.ORDINARY, Channel.EMAIL) == []  # leased
    clock.now += timedelta(seconds=121)
    second = take(Lane.ORDINARY, Channel.EMAIL)
    assert [message_id(d) for d in second] == [message_id(d) for d in first]
    assert {d.tries for d in second} == {2}
    assert address.paused_at is None


def test_a_lease_of_a_clock_that_was_set_back_since_holds_nothing_up(
    smtp, clock, shop, area
) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    right = clock.now
    clock.now += timedelta(hours=1)
    first = take(Lane.ORDINARY, Channel.EMAIL)
    clock.now = right + timedelta(minutes=57)  # as far as two machines may be apart
    assert take(Lane.ORDINARY, Channel.EMAIL) == []
    clock.now = right + timedelta(seconds=30)
    assert [d.id for d in take(Lane.ORDINARY, Channel.EMAIL)] == [d.id for d in first]


def test_a_crash_between_the_yes_and_our_note_sends_the_same_message_again(
    smtp, monkeypatch, clock, shop, area
) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)

    def killed(_delivery) -> None:
        raise SystemExit

    with monkeypatch.context() as patched:
        patched.setattr(outbox, "sent", killed)
        with pytest.raises(SystemExit):
            send_all()
    assert send_all() == 0  # until the lease of the one that died has run out
    clock.now += timedelta(seconds=121)
    count = send_all()
    taken = [row[0] for row in smtp()]
    assert len(taken) == count + 1
    assert len(set(taken)) == count == shop.own(Delivery).filter(state=State.SENT).count()


def test_what_became_moot_while_it_waited_is_not_sent(smtp, shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    cover_release_withdraw(shop.office, area=area, because="cable moved")  # and nobody settled
    send_all()
    delivery = Delivery.objects.get(notices__reason="area released", person=shop.builder)
    assert delivery.state == State.MOOT
    assert message_id(delivery) not in {row[0] for row in smtp()}


def test_what_was_seen_on_the_site_is_not_sent(smtp, shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    for notice in Notice.objects.filter(person=shop.builder):
        notice_see(shop.builder, notice_id=notice.id)
    assert send_all() == 0
    assert set(shop.own(Delivery).values_list("state", flat=True)) == {State.MOOT}


def test_moot_before_anybody_was_told_and_true_again_is_told(smtp, clock, shop, area) -> None:
    reach(shop.office, shop, "office@example.org")
    job = area.job
    job.drywall_on = (clock.now + timedelta(days=1)).date()
    job.save()
    job_settle(job.id)
    notice = Notice.objects.get(person=shop.office, reason="cover date near")
    job.drywall_on = None
    job.save()
    job_settle(job.id)
    send_all()
    job.drywall_on = (clock.now + timedelta(days=1)).date()
    job.save()
    job_settle(job.id)
    send_all()
    states = list(notice.deliveries.order_by("id").values_list("state", flat=True))
    assert states == [State.MOOT, State.SENT]


def test_a_mailbox_that_is_gone_is_paused_and_the_next_address_is_tried(smtp, shop, area) -> None:
    gone = reach(shop.builder, shop, "gone@example.org")
    reach(shop.builder, shop, "second@example.org")
    shop.release(area)
    job_settle(area.job_id)
    send_all()
    send_all()
    gone.refresh_from_db()
    assert "550" in say(gone.paused_because)
    given_up = Delivery.objects.filter(address=gone)
    assert set(given_up.values_list("state", flat=True)) == {State.DEAD}
    second = Delivery.objects.filter(
        address__digest=digest_of("second@example.org"), state=State.SENT
    )
    told = Notice.objects.filter(person=shop.builder, moot_at=None)
    assert set(second.values_list("notices", flat=True)) == set(told.values_list("id", flat=True))
    job_settle(area.job_id)
    address_resume(shop.office, address=gone)
    assert Address.objects.get(id=gone.id).paused_at is None


def test_a_server_that_is_busy_is_tried_again_and_at_last_given_up(smtp, clock, shop, area) -> None:
    reach(shop.builder, shop, "later@example.org")
    reach(shop.office, shop, "office@example.org")
    shop.release(area)
    job_settle(area.job_id)
    for _ in range(MOST_TRIES):
        send_all()
        clock.now += timedelta(hours=3)
    waiting = Delivery.objects.filter(person=shop.builder)
    assert set(waiting.values_list("state", "tries")) == {(State.DEAD, MOST_TRIES)}
    assert Try.objects.filter(delivery=waiting.first()).count() == MOST_TRIES
    assert "451" in say(the_first(waiting).fault)
    unharmed = Delivery.objects.filter(person=shop.office)
    assert set(unharmed.values_list("state", flat=True)) <= {State.SENT, State.MOOT}
    given_up = the_first(waiting)
    delivery_retry(shop.office, delivery=given_up)
    given_up.refresh_from_db()
    assert (given_up.state, given_up.tries) == (State.DUE, 0)


def test_a_mail_server_that_is_down_counts_against_no_message(settings, clock, shop, area) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", free_port()
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    for _ in range(MOST_TRIES + 3):
        assert send_all() == 0
        clock.now += timedelta(minutes=1)
    assert set(shop.own(Delivery).values_list("state", "tries")) == {(State.DUE, 0)}
    assert shop.own(Delivery).exclude(fault="").exists()


def test_waits_double_and_are_spread() -> None:
    waits = [wait_before(number, 1) for number in range(2, MOST_TRIES + 1)]
    assert waits[:3] == [30, 60, 120]
    assert all(later == 2 * sooner for sooner, later in pairwise(waits))
    assert wait_before(2, 0) == 15


def test_a_day_in_one_message(settings, tmp_path, clock, shop, area) -> None:
    settings.EMAIL_BACKEND = "notifications.channels.mail_files.FiledEmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path
    reach(shop.builder, shop, "builder@example.org")
    habits_set(shop.builder, time_zone="America/Edmonton", digest_at=time(17))
    shop.release(area)
    job_settle(area.job_id)
    (delivery,) = shop.own(Delivery)
    assert delivery.due_at == datetime(2026, 3, 3, 0, 0, tzinfo=UTC)
    assert send_all() == 0
    clock.now = delivery.due_at
    assert send_all() == 1
    message = message_from_bytes(file_of(message_id(delivery)).read_bytes(), policy=policy.default)
    reasons = Notice.objects.filter(person=shop.builder, moot_at=None)
    text = sure(message.get_body(("plain",))).get_content()
    assert all(in_one_line(notice.text) in text for notice in reasons)
    assert reasons.count() > 1
    assert message["Subject"] == f"{shop.shop.name}: {reasons.count()} notices"


def test_what_a_days_message_left_out_as_moot_is_told_when_it_stands_again(
    smtp, clock, shop, area
) -> None:
    reach(shop.office, shop, "office@example.org")
    habits_set(shop.office, time_zone="America/Edmonton", digest_at=time(17))
    job, board = shop.release(area).area.job, (NOON + timedelta(days=1)).date()
    for job.drywall_on in (board, None):
        job.save()
        job_settle(job.id)
    notice = Notice.objects.get(person=shop.office, reason="cover date near")
    clock.now = notice.deliveries.get().due_at
    assert send_all() == 1
    assert not notice.deliveries.exists()
    job.drywall_on = board
    job.save()
    job_settle(job.id)
    told = notice.deliveries.get()
    assert told.due_at > clock.now
    clock.now = told.due_at
    send_all()
    assert notice.deliveries.get().state == State.SENT


def test_an_invitation_goes_along_with_an_inspection(settings, tmp_path, shop, area) -> None:
    settings.EMAIL_BACKEND = "notifications.channels.mail_files.FiledEmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path
    reach(shop.lead, shop, "lead@example.org")
    shop.look_at(area)
    inspection = shop.booked(area)
    job_settle(area.job_id)
    send_all()
    delivery = Delivery.objects.get(notices__reason="inspection booked", person=shop.lead)
    message = message_from_bytes(Path(file_of(message_id(delivery))).read_bytes())
    parts = {part.get_content_type(): part for part in message.walk()}
    calendar = parts["text/calendar"].get_payload(decode=True)
    assert isinstance(calendar, bytes)
    assert "METHOD:REQUEST" in calendar.decode()
    assert f"UID:{inspection.id}@studbay" in calendar.decode()
    inspection_happen(shop.office, inspection=inspection, happening=Happening.CANCELLED)
    job_settle(area.job_id)
    send_all()
    gone = Delivery.objects.get(notices__reason="inspection cancelled", person=shop.lead)
    assert b"METHOD:CANCEL" in file_of(message_id(gone)).read_bytes()


def test_a_stop_link_ends_one_kind_and_no_other(smtp, shop, area) -> None:
    address = reach(shop.builder, shop, "builder@example.org")
    stop_kind(address_id=address.id, kind="cover")
    shop.release(area)
    job_settle(area.job_id)
    kinds = set(shop.own(Delivery).values_list("notices__kind", flat=True))
    assert kinds == {"inspection"}
    assert Notice.objects.filter(person=shop.builder, kind="cover").exists()  # on the site


def test_a_wish_chooses_the_channel(shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    hook = {"person": shop.builder, "shop": shop.shop, "channel": Channel.WEBHOOK}
    address_add(shop.builder, target="https://example.org/hook", **hook)
    wish_set(shop.builder, kind="cover", way="webhook")
    shop.release(area)
    job_settle(area.job_id)
    by = dict(shop.own(Delivery).values_list("notices__kind", "channel"))
    assert by == {"cover": "webhook", "inspection": "email"}


@pytest.mark.parametrize("target", ["a@example.org\nBcc: b@example.org", "no address", "a@b\rc"])
def test_an_address_that_is_none_is_refused(shop, target) -> None:
    with pytest.raises(ValidationError):
        reach(shop.builder, shop, target)


def test_an_address_with_a_line_break_that_got_in_harms_no_other(smtp, shop, area) -> None:
    bad = reach(shop.builder, shop, "builder@example.org")
    reach(shop.office, shop, "office@example.org")
    Address.objects.filter(id=bad.id).update(target="b@example.org\nBcc: c@example.org")
    shop.release(area)
    job_settle(area.job_id)
    send_all()
    assert set(Delivery.objects.filter(address=bad).values_list("state", flat=True)) == {State.DEAD}
    assert "cannot be made" in say(the_first(Delivery.objects.filter(address=bad)).fault)
    assert {row[1] for row in smtp()} == {"office@example.org"}


def test_a_template_that_lacks_a_value_says_which(smtp, monkeypatch, shop, area) -> None:
    from django.template import Engine

    broken = Engine(string_if_invalid=rendering._Missing("%s")).from_string("{{ no_such }}")
    monkeypatch.setattr(rendering, "_template", lambda name: broken)
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    job_settle(area.job_id)
    send_all()
    assert "lacks a value for “no_such”" in say(shop.own(Delivery).first().fault)
    assert smtp() == []


def test_a_long_note_fits_every_notice_and_one_too_long_is_refused(smtp, shop, area) -> None:
    reach(shop.builder, shop, "builder@example.org")
    shop.release(area)
    with pytest.raises(ValidationError, match="at most 500 characters"):
        cover_release_withdraw(shop.office, area=area, because="x" * 5000)
    cover_release_withdraw(shop.office, area=area, because="moved " * 83)
    job_settle(area.job_id)
    send_all()
    notice = Notice.objects.get(person=shop.builder, reason="cover release withdrawn")
    assert say(notice.text).count("moved") == 83
    subject = message_text(notice.deliveries.get(), [notice]).subject
    assert len(subject) <= 120
    assert subject.endswith("…")
    assert notice.deliveries.get().state == State.SENT


def test_whoever_could_not_be_reached_is_told_what_still_stands(smtp, shop, area) -> None:
    shop.release(area)
    job_settle(area.job_id)
    notices = Notice.objects.filter(person=shop.builder)
    seen = notices.get(reason="result recorded")
    notice_see(shop.builder, notice_id=seen.id)
    assert send_all() == 0
    reach(shop.builder, shop, "builder@example.org")
    reach(shop.builder, shop, "second@example.org")
    assert send_all() == len(smtp()) == notices.filter(moot_at=None).count() - 1 > 0
    assert {row[1] for row in smtp()} == {"builder@example.org"}
