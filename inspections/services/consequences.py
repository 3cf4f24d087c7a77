"""What a write does beyond what it records: said first, where somebody can still think better."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime

from config.languages import say
from config.messages.message import Joined, Text
from inspections.conclusions.areas import areas_holds
from inspections.models import CoverRelease
from inspections.standing.cover_layers import withdrawal_says
from jobs.models import Area


class WouldWithdraw(Exception):
    """What is to be recorded withdraws a cover release; `text` says of what, and who is told."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(say(text, "en"))


class OutOfOrder(Exception):
    """What is to be recorded comes before something that must come first; it may be insisted on."""

    def __init__(self, says: Sequence[Text]) -> None:
        self.says = tuple(says)
        self.text = Joined(self.says)
        super().__init__(say(self.text, "en"))


@contextmanager
def withdrawing_nothing(areas: Sequence[Area], now: datetime) -> Iterator[None]:
    """Raise WouldWithdraw when what is written within brings a hold to a released area.

    The areas are locked. One that a hold has come to already is left out: what is written within
    is not what withdraws it.
    """
    live = CoverRelease.objects.filter(area__in=areas, withdrawn_at__isnull=True)
    live_areas = set(live.values_list("area", flat=True))
    holds = areas_holds(areas, now)
    released = []
    for area in areas:
        if area.id in live_areas and not holds[area.id]:
            released.append(area)
    yield
    if not released:
        return
    after = areas_holds(released, now)
    lost = []
    for area in released:
        if after[area.id]:
            lost.append(area.name)
    if lost:
        raise WouldWithdraw(withdrawal_says(lost))
