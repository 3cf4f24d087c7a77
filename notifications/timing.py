"""When a person is told, by their own clock: quiet hours and the one message a day. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

DAY, HOUR, SECOND = timedelta(days=1), timedelta(hours=1), timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class Day:
    """A person's day. Without quiet hours any hour will do."""

    zone: ZoneInfo
    quiet_from: time | None = None
    quiet_to: time | None = None
    digest_at: time | None = None

    def quiet(self, moment: datetime) -> bool:
        """Whether the person is not to be told then, unless it is urgent."""
        if self.quiet_from is None or self.quiet_to is None:
            return False
        clock = moment.astimezone(self.zone).time()
        if self.quiet_from <= self.quiet_to:
            return self.quiet_from <= clock < self.quiet_to
        return clock >= self.quiet_from or clock < self.quiet_to

    def after_quiet(self, moment: datetime) -> datetime:
        """That moment, or the end of the quiet hours that it falls in.

        They end at their hour; or when clocks go forward over it, or over a whole day.
        """
        if not self.quiet(moment):
            return moment
        local = moment.astimezone(self.zone)
        ends = []
        for days in (0, 1, 2):
            for fold in (0, 1):
                ends.append(self._on(local + days * DAY, self.quiet_to, fold))
        ends += self._changes(moment)
        waking = []
        for end in ends:
            if end > moment and not self.quiet(end):
                waking.append(end)
        return min(waking)

    def _changes(self, moment: datetime) -> Iterator[datetime]:
        """The moments at which the clocks change within two days."""
        for hours in range(48):
            before, after = moment + hours * HOUR, moment + (hours + 1) * HOUR
            was = self._offset(before)
            if was == self._offset(after):
                continue
            while after - before > SECOND:
                middle = before + (after - before) / 2
                if self._offset(middle) == was:
                    before = middle
                else:
                    after = middle
            yield after.replace(microsecond=0).astimezone(UTC)

    def _offset(self, moment: datetime) -> timedelta | None:
        return moment.astimezone(self.zone).utcoffset()

    def next_digest(self, moment: datetime) -> datetime:
        """The first hour of the one message a day that comes after a moment.

        An hour within the quiet ones waits for their end.
        """
        local = moment.astimezone(self.zone)
        for days in (0, 1, 2):
            slot = self.after_quiet(self._on(local + days * DAY, self.digest_at))
            if slot > moment:
                return slot
        raise AssertionError("one of the next two days has that hour")

    def _on(self, local: datetime, hour: time | None, fold: int = 0) -> datetime:
        """An hour of a day; one that the clocks skip is the hour after. `fold`: which of two."""
        assert hour is not None
        return datetime.combine(local.date(), hour, self.zone).replace(fold=fold).astimezone(UTC)


@dataclass(frozen=True, slots=True)
class When:
    """The moment to tell somebody, and whether together with the rest of the day's."""

    at: datetime
    digest: bool


def when(day: Day, moment: datetime, *, urgent: bool, at_once: bool) -> When:
    """When to tell what is due at that moment."""
    if urgent:
        return When(moment, False)
    if day.digest_at is not None and not at_once:
        return When(day.next_digest(moment), True)
    return When(day.after_quiet(moment), False)
