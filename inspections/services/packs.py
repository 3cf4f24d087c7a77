"""Writes of packs: asked for on a page, made by a worker part by part, kept for a month."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import transaction
from django.urls import reverse
from django.utils import timezone

from config.languages import said_later, say, spoken_to
from config.messages.message import Listed
from config.messages.stored import to_json
from inspections.models import Pack
from inspections.papers.packs import Part, appendix_parts, pack_parts
from inspections.papers.sheets.bundle import bundle_pdf
from inspections.papers.sheets.frame import PAPERS
from inspections.selectors import latest_revision
from inspections.services import refusal_messages as words
from inspections.services.background import BROKE, TRIES, ends_in_words
from inspections.services.links import appendix_link_make
from jobs.access import require_role
from jobs.models import Job, Person, Role
from jobs.signals import pack_asked

TAKEN_UP = timedelta(minutes=2)
"""So long a worker may be on one; then another takes it up."""
KEPT = timedelta(days=31)


def pack_ask(actor: Person, *, job: Job, kind: str, paper: str = "letter") -> Pack:
    """Ask for a pack; a worker makes it. Raises ValidationError without a recorded house."""
    require_role(actor, job.shop, Role.OFFICE)
    if latest_revision(job) is None:
        raise ValidationError(said_later(words.NO_HOUSE()))
    if paper not in PAPERS:
        raise ValidationError(said_later(words.PAPER(sizes=Listed(tuple(PAPERS), "or"))))
    with transaction.atomic():
        pack = Pack(job=job, kind=kind, paper=paper, asked_by=actor, asked_at=timezone.now())
        pack.full_clean(exclude=["content"])
        pack.save()
        transaction.on_commit(lambda: pack_asked.send(sender=Pack, pack_id=pack.id))
    return pack


def pack_make(pack_id: UUID) -> Pack:
    """Make a pack that was asked for; how far it is shows after each part. Safe to repeat.

    What breaks in the making, or ends the worker again and again, fails the pack in words.
    """
    now = timezone.now()
    with transaction.atomic():
        pack = Pack.objects.select_for_update(no_key=True).get(id=pack_id)
        busy = pack.begun_at is not None and now - pack.begun_at < TAKEN_UP
        if pack.state != Pack.State.ASKED or busy:
            return pack
        if pack.tries >= TRIES:
            return _failed(pack)
        pack.begun_at, pack.done, pack.tries = now, 0, pack.tries + 1
        pack.save(update_fields=["begun_at", "done", "tries"])
    with ends_in_words(f"pack {pack.id}", lambda: _failed(pack)):
        _bind(pack)
    return pack


def _failed(pack: Pack) -> Pack:
    pack.state, pack.fault = Pack.State.FAILED, say(BROKE(), "en")
    pack.save(update_fields=["state", "fault"])
    return pack


def _bind(pack: Pack) -> None:
    """Make every part and bind them, saying how far it is."""
    revision = latest_revision(pack.job)
    assert revision is not None  # there was one when it was asked for
    kind, address, behind = Pack.Kind(pack.kind), "", []
    if kind == Pack.Kind.INSPECTOR:
        _, secret = appendix_link_make(pack, expires_at=pack.asked_at + KEPT)
        address = f"{settings.SITE_URL}{reverse('link', args=[secret])}"
        behind = list(appendix_parts(pack.job, revision, pack.paper))
    parts = pack_parts(pack.job, revision, kind, pack.paper, address)
    pack.parts = len(parts) + len(behind)
    content = _made(pack, parts, 0)
    if behind:
        pack.appendix = bundle_pdf(_made(pack, behind, len(parts)))
    pack.content, pack.state = bundle_pdf(content), Pack.State.MADE
    pack.part, pack.done = "", pack.parts
    pack.save(update_fields=["content", "appendix", "state", "part", "done"])


def _made(pack: Pack, parts: Sequence[Part], before: int) -> list[tuple[str, bytes]]:
    """Each part by its name, after so many that were made before."""
    made = []
    for number, (name, make) in enumerate(parts, before):
        pack.part, pack.done = to_json(name), number
        pack.save(update_fields=["parts", "part", "done"])
        with spoken_to(pack.asked_by.language, pack.asked_by.units):
            made.append((say(name), make()))
    return made


def packs_due(now: datetime | None = None) -> list[UUID]:
    """Packs that no worker is on: a message was lost or a worker died. Old ones go."""
    now = now or timezone.now()
    Pack.objects.filter(asked_at__lt=now - KEPT).delete()
    asked = Pack.objects.filter(
        state=Pack.State.ASKED, asked_at__lt=now - timedelta(minutes=1)
    ).order_by("id")
    ids: list[UUID] = []
    for pack in asked:
        if pack.begun_at is None or now - pack.begun_at >= TAKEN_UP:
            ids.append(pack.id)
    return ids
