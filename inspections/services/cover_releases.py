"""Writes of cover releases: the record that an area may be covered, and why it was taken back."""

from django.core.exceptions import ValidationError
from django.utils import timezone

from config.languages import said_later, say
from config.messages.message import Joined
from inspections.conclusions.areas import area_holds
from inspections.models import Acceptance, CoverRelease, WithdrawalAnswer
from inspections.services import refusal_messages as words
from inspections.services.facts import changing_facts
from inspections.services.refusals import Refused
from inspections.standing.holds import Hold
from jobs.access import require_role
from jobs.models import Area, Person, Role


class Held(Exception):
    """The area cannot be released; `holds` says why."""

    def __init__(self, holds: tuple[Hold, ...]) -> None:
        self.holds = holds
        self.text = Joined(tuple(hold.says for hold in holds))
        super().__init__(say(self.text, "en"))


class NotReleased(Refused):
    """There is no live cover release to withdraw."""


def cover_release_issue(actor: Person, *, area: Area) -> CoverRelease:
    """Release an area for cover, on the ground of the authority's latest answer.

    Raises Held while anything holds the area. An area that is released already keeps its
    cover release, which is returned.
    """
    require_role(actor, area.job.shop, Role.OFFICE)
    now = timezone.now()
    with changing_facts(actor, "area released", area.job_id, area_ids=[area.id], now=now) as change:
        if found := area_holds(change.area, now):
            raise Held(found)
        if live := CoverRelease.objects.filter(area=area, withdrawn_at__isnull=True).first():
            change.detail = {"area": area.code, "already": live.id}
            return live
        said = Acceptance.objects.filter(area=area).latest("recorded_at", "id")
        cover_release = CoverRelease(
            area=change.area,
            acceptance=said,
            reference=said.reference,
            issued_by=actor,
            issued_at=now,
        )
        cover_release.full_clean()
        cover_release.save()
        change.detail = {"area": area.code, "basis": said.basis, "reference": said.reference}
        return cover_release


def cover_release_withdraw(actor: Person, *, area: Area, because: str) -> CoverRelease:
    """Take an area's live cover release back by hand, with the reason.

    The reason holds the area until `withdrawal_answer` says what was done about it.
    """
    require_role(actor, area.job.shop, Role.OFFICE)
    if not because.strip():
        raise ValidationError(said_later(words.WITHDRAW_WHY()))
    now = timezone.now()
    with changing_facts(
        actor, "cover release withdrawn", area.job_id, area_ids=[area.id], now=now
    ) as change:
        live = CoverRelease.objects.filter(area=area, withdrawn_at__isnull=True).first()
        if live is None:
            raise NotReleased(words.NOT_RELEASED(area=area.name))
        live.withdrawn_at, live.withdrawn_by, live.withdrawn_because = now, actor, because
        live.full_clean()
        live.save()
        change.detail = {"area": area.code, "because": because}
        return live


def withdrawal_answer(
    actor: Person, *, cover_release: CoverRelease, says: str, inspect_again: bool | None
) -> WithdrawalAnswer:
    """Record what was done about the reason for which somebody withdrew a cover release.

    With `inspect_again` the area is held until the authority has accepted it anew; None is nobody's
    answer. Raises ValidationError for an empty answer, for one that leaves that open, for a
    cover release that nobody withdrew by hand, and for one whose withdrawal is answered.
    """
    area = cover_release.area
    require_role(actor, area.job.shop, Role.OFFICE, Role.CREW_LEAD)
    if not says.strip():
        raise ValidationError(said_later(words.WHAT_WAS_DONE()))
    if inspect_again is None:
        raise ValidationError({"inspect_again": said_later(words.INSPECT_AGAIN())})
    now = timezone.now()
    with changing_facts(
        actor, "withdrawal answered", area.job_id, area_ids=[area.id], now=now
    ) as change:
        fresh = CoverRelease.objects.select_related("withdrawal_answer").get(id=cover_release.id)
        if fresh.withdrawn_by_id is None:
            raise ValidationError(said_later(words.NOT_BY_HAND()))
        if fresh.answer is not None:
            answered = words.WITHDRAWAL_ANSWERED(answer=str(fresh.answer))
            raise ValidationError(said_later(answered))
        answer = WithdrawalAnswer(
            cover_release=fresh,
            says=says.strip(),
            inspect_again=inspect_again,
            recorded_by=actor,
            recorded_at=now,
        )
        answer.full_clean()
        answer.save()
        change.detail = {
            "area": area.code,
            "because": fresh.withdrawn_because,
            "says": answer.says,
            "inspect_again": inspect_again,
        }
    return answer
