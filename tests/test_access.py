"""Who gets in where: every address and method, for each kind of caller, as `access.toml` says."""

import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.core import signing
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from inspections.models import Link, Observation, Pack
from inspections.record.checks import check_address
from inspections.services.deficiencies import deficiency_photograph
from inspections.services.links import appendix_link_make, cover_link_make
from inspections.services.packs import pack_ask, pack_make
from inspections.services.photographs import photograph_add
from jobs.models import ApiToken, Invitation, Job, Membership, Role, Skill
from jobs.services.crews import absence_record
from jobs.services.people import invitation_make
from jobs.services.tokens import token_make
from notifications.models import Channel, Delivery, Feed, Notice
from notifications.models.deliveries import Lane, State
from notifications.services.feeds import feed_open
from notifications.services.sending import deliver
from notifications.services.wishes import address_add
from tests.clock import Clock
from tests.lengths import in_part
from tests.lived import lived_in
from tests.matrix import CALLERS, METHODS, addresses, filled, gets_in
from tests.passkeys import ids_of_account, with_passkey
from tests.people import Shopful
from tests.sure import the_first

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
TABLE = tomllib.loads((Path(__file__).parent / "access.toml").read_text("utf-8"))["access"]
GONE = {
    "link": "gone_link",
    "link-acknowledge": "gone_link",
    "link-appendix": "gone_link",
    "join": "gone_join",
    "calendar": "gone_feed",
    "mail-kept": "gone_token",
    "way-back": "gone_back",
    "notice-seen": "gone_token",
    "notice-stop": "gone_token",
}
"""Addresses that a secret opens, and which secret is one that ran out or was withdrawn."""


SUNDAY = datetime(2026, 3, 15, 18, tzinfo=UTC)
"""A crew's list for the next day is there to be opened: the day after is a working day."""
DAY = SUNDAY.date()


def picture() -> SimpleUploadedFile:
    made = BytesIO()
    Image.new("RGB", (40, 30), "gray").save(made, "JPEG")
    return SimpleUploadedFile("a.jpg", made.getvalue(), "image/jpeg")


def of_area(area) -> dict[str, object]:
    """An area that was seen and released, with one of each of that."""
    seen = the_first(Observation.objects.filter(item__area=area))
    return {
        "area_id": area.id,
        "cover_release_id": area.cover_releases.get().id,
        "observation_id": seen.id,
    }


@pytest.fixture
def on_a_sunday(monkeypatch) -> Clock:
    """The same day whenever the suite runs, since who finds what depends on the day."""
    return Clock(SUNDAY).put(monkeypatch)


@pytest.fixture
def ids(on_a_sunday, shop, house_bytes, settings, django_capture_on_commit_callbacks):
    """One of everything, of one shop."""
    settings.EMAIL_BACKEND = "notifications.channels.mail_files.FiledEmailBackend"
    given = {"person": shop.office, "shop": shop.shop, "channel": Channel.EMAIL}
    address = address_add(shop.office, target="office@studbay.example", **given)
    with django_capture_on_commit_callbacks(execute=True):
        lived = lived_in(shop, house_bytes)
    job = lived["job"]
    with_passkey(shop.member)
    item, deficiency = job.items.first(), job.deficiencies.get()
    link, _ = cover_link_make(shop.office, job=job, for_whom="somebody")
    feed = feed_open(shop.office, shop=shop.shop)
    notice = the_first(Notice.objects.filter(person=shop.office))
    absence = absence_record(
        shop.office, shop=shop.shop, person=shop.member, from_day=DAY, to_day=DAY
    )
    token, _ = token_make(shop.office, name="meter", scope=ApiToken.Scope.WRITE)
    for lane in Lane:
        deliver(lane, Channel.EMAIL)
    return {
        "job_id": job.id,
        "member_id": shop.member.id,
        **of_area(lived["area"]),
        "inspection_id": job.inspections.last().id,
        "pack_id": pack_make(pack_ask(shop.office, job=job, kind="inspector").id).id,
        "site_change_id": lived["site_change"].id,
        "deficiency_id": deficiency.id,
        "item_id": item.id,
        "photograph_id": photograph_add(shop.lead, item=item, upload=picture()).id,
        "deficiency_photograph": deficiency_photograph(
            shop.lead, deficiency=deficiency, upload=picture()
        ).id,
        "link_id": link.id,
        "notice_id": notice.id,
        "authority_id": shop.authority.id,
        "plan_id": lived["plan"].id,
        "crew_id": shop.shop.crews.get(lead=shop.lead).id,
        "absence_id": absence.id,
        "membership_id": Membership.objects.get(person=shop.member).id,
        "invitation_id": shop.shop.invitations.first().id,
        "delivery_id": the_first(Delivery.objects.filter(shop=shop.shop, state=State.SENT)).id,
        "address_id": address.id,
        "feed_id": feed.id,
        "token_id": token.id,
        "key": "inspections",
        "name": "cec-2021",
        "rule": "box-fill",
        "which": "load",
        "form": "xlsx",
        "secret": lived["cover"],
        "join": lived["join"],
        "appendix": to_an_appendix(lived["pack"]),
        "token": feed.token,
        "seen": signing.dumps(str(notice.id), salt="notice seen"),
        "stop": signing.dumps([str(address.id), "inspection"], salt="notice stop"),
        "paper": check_address(job, job.revisions.last()).split("/")[-2],
        **ids_of_account(shop),
        **that_are_gone(shop, job),
    }


def to_an_appendix(pack: Pack) -> str:
    """The secret of the code on a pack that is made."""
    _, secret = appendix_link_make(pack, expires_at=timezone.now() + timedelta(days=31))
    file = BytesIO()
    sheet = Canvas(file)
    sheet.showPage()
    sheet.save()
    Pack.objects.filter(id=pack.id).update(appendix=file.getvalue())
    return secret


def that_are_gone(shop: Shopful, job: Job) -> dict[str, str]:
    """The secrets of a link, an invitation and a calendar that ran out or were withdrawn."""
    long_ago = timezone.now() - timedelta(days=1)
    invitation, join = invitation_make(
        shop.office, shop=shop.shop, role=Role.CREW_LEAD, for_whom="gone"
    )
    Invitation.objects.filter(id=invitation.id).update(expires_at=long_ago)
    link, secret = cover_link_make(shop.office, job=job, for_whom="gone")
    Link.objects.filter(id=link.id).update(expires_at=long_ago)
    feed = feed_open(shop.lead, shop=shop.shop)
    Feed.objects.filter(id=feed.id).update(withdrawn_at=long_ago)
    return {
        "gone_link": secret,
        "gone_join": join,
        "gone_feed": feed.token,
        "gone_token": "long:ago",
    }


@pytest.fixture
def clients(on_a_sunday, shop, stranger_shop):
    """A client for each kind of caller, signed in as it."""
    people = {
        "o": shop.office,
        "l": shop.lead,
        "m": shop.member,
        "b": shop.builder,
        "x": stranger_shop.office,
    }
    made = {letter: Client(raise_request_exception=False) for letter in CALLERS}
    for letter, person in people.items():
        made[letter].force_login(person)
    return made


TOKENS = {
    "notice-seen": lambda ids: ids["seen"],
    "notice-stop": lambda ids: ids["stop"],
    "paper": lambda ids: ids["paper"],
    "mail-kept": lambda ids: ids["mail_token"],
}


SECRETS = {"join": "join", "way-back": "way_back", "link-appendix": "appendix"}

FORMS = {
    "absence": lambda ids: {"person": ids["member_id"], "from_day": DAY, "to_day": DAY},
    "crew-place": lambda ids: {"person": ids["member_id"], "from_day": DAY},
    "crew-skill": lambda ids: {"person": ids["member_id"], "skill": Skill.LICENSED},
    "rule": lambda _ids: {
        "limit": "counter-receptacles.min_width_mm",
        "value": "210",
        "unit": "mm",
        "reason": "by-law 13",
    },
}
"""What is posted where the address alone names nothing: one of the shop's own people, a limit."""

QUERIES = {"figure-jobs": "?of=rough_in"}


def path_for(name: str, pattern: str, letter: str, ids) -> str:
    own = dict(ids)
    if name == "deficiency-photograph-file":
        own["photograph_id"] = ids["deficiency_photograph"]
    own["secret"] = ids[SECRETS.get(name, "secret")]
    if name == "account_reset_password_from_key":
        own["key"] = "gone" if letter == "e" else ids["reset_key"]
    own["token"] = TOKENS.get(name, lambda ids: ids["token"])(ids)
    own["name"] = "load" if "power" in pattern else ids["name"]
    own["which"] = "corrections" if "/sheets/" in pattern else ids["which"]
    if letter == "e" and name in GONE:
        own["secret"] = own["token"] = ids[GONE[name]]
    return filled(pattern, own) + QUERIES.get(name, "")


def calls_tried() -> Iterator[tuple[str, str, str, str]]:
    """Name and pattern of an address, method and caller, of this run's part.

    The office of another shop tries every door on each run.
    """
    for name, pattern in addresses():
        if name is None:
            continue
        for method in METHODS:
            callers = "o"
            if method in ("GET", "POST") or "/api/" in pattern:
                callers = "".join(CALLERS)
            for letter in callers:
                if letter == "x" or in_part(f"{name} {method} {letter}"):
                    yield name, pattern, method, letter


def test_every_address_lets_in_whom_the_table_says_and_no_other(clients, ids) -> None:
    wrong = []
    for name, pattern, method, letter in calls_tried():
        form = FORMS[name](ids) if method == "POST" and name in FORMS else None
        is_in = gets_in(clients[letter], method, path_for(name, pattern, letter, ids), form)
        line = TABLE.get(f"{name} {method}", "")
        if is_in != (letter in line):
            what = "gets in" if is_in else "is kept out"
            wrong.append(f"{name} {method}: {CALLERS[letter]} {what}, the table says {line!r}")
    assert not wrong, "\n".join(wrong)


def test_every_address_stands_in_the_table() -> None:
    named = {name for name, _ in addresses() if name is not None}
    lines = {call.split()[0] for call in TABLE}
    assert named <= lines, f"no line says who gets in: {sorted(named - lines)}"
    assert lines <= named, f"no such address: {sorted(lines - named)}"


def test_an_answer_of_a_server_that_failed_is_no_open_door(rf) -> None:
    class Failing(Client):
        def generic(self, method, path, *_body, **_more):
            answer: Any = HttpResponse(status=500)
            answer.wsgi_request = rf.generic(method, path)
            return answer

    with pytest.raises(AssertionError, match="POST /join/secret/ answers 500"):
        gets_in(Failing(), "POST", "/join/secret/")
