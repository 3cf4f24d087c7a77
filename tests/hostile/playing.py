"""Sequences of calls, played on both shops; each leaves no trace."""

import random
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from http.cookies import SimpleCookie
from typing import Any
from urllib.parse import unquote_plus

from django.conf import settings
from django.core import mail
from django.core.cache import cache
from django.db import connection, transaction
from django.test import Client, TestCase

from inspections.tasks import settle_due
from notifications.tasks import tick
from tests.hostile import calls_any, calls_cover, calls_office, calls_site, checks, commands
from tests.hostile.scene import Call, Scene
from tests.hostile.values import STEPS, TURNS, Dice
from tests.hostile.world import World

LONGEST = 14  # calls
CALLS = [*calls_site.CALLS, *calls_cover.CALLS, *calls_office.CALLS, *calls_any.CALLS]


class Play:
    """Plays sequences; counts what came of their calls."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.answers: Counter[str] = Counter()
        self.calls: Counter[str] = Counter()
        self.told: list[str] = []
        self.typed_by_strangers: list[str] = []
        self._sessions = {
            name: client.cookies.get(settings.SESSION_COOKIE_NAME)
            for name, client in world.clients.items()
        }

    def sequence(self, chance: random.Random) -> None:
        """One sequence; raises checks.Broken with every call before it."""
        clock = self.world.clock
        dice = Dice(chance, lambda: clock.now)
        self.told.clear()
        self.typed_by_strangers.clear()
        mail.outbox.clear()
        with undone():
            clock.now = self.world.ready_at + timedelta(minutes=10)
            self._sign_in()
            scene = Scene(self.world, dice)
            self.told.append(f"a job that is {scene.state}")
            try:
                self._played(scene, dice)
            except Exception as fault:
                raise checks.Broken("\n".join([*self.told, f"-> {fault!r}"])) from fault

    def _played(self, scene: Scene, dice: Dice) -> None:
        worker, furthest, went_back = dice.often(75), self.world.clock.now, False
        live = checks.nothing_false_is_clear()
        for _ in range(dice.whole(4, LONGEST)):
            self._time_passes(dice)
            went_back |= self.world.clock.now < furthest
            furthest = max(furthest, self.world.clock.now)
            dice.calm = dice.often(45)
            make = dice.weighed(CALLS)
            self.calls[make.__name__] += 1
            made = make(scene)
            for call in [made] if isinstance(made, Call) else made:
                self.call(call, worker=worker)
                live = self._note(live, checks.nothing_false_is_clear())
            if dice.often(2):
                self.told.append(commands.typed(scene))
                live = self._note(live, checks.nothing_false_is_clear())
        self._set_right(furthest)
        dice.calm = True
        for call in dice.among(PARTS)(calls_any.looks(scene)):
            self.call(call, worker=worker)
        checks.everything_agrees(scene.job, clock_went_back=went_back)
        checks.mail_is_in_order(self.world, self.typed_by_strangers)

    def _note(self, before: set[Any], now: set[Any]) -> set[Any]:
        """Count what was released and what was taken back."""
        self.answers["released"] += len(now - before)
        self.answers["withdrawn"] += len(before - now)
        return now

    def _time_passes(self, dice: Dice) -> None:
        """A little; now and then much, or to a turn of the clocks; rarely back. Beat may run."""
        clock = self.world.clock
        if dice.often(12):
            step = dice.among(STEPS)
            clock.now += step if dice.often(85) else -step
            self.told.append(f"the clock is at {clock.now.isoformat()}")
        elif dice.often(2):
            clock.now = max(dice.among(TURNS), clock.now)
            self.told.append(f"the clock is at {clock.now.isoformat()}")
        clock.now += timedelta(seconds=41)
        if dice.often(8):
            self.told.append("the sweep")
            settle_due()
            tick()

    def _set_right(self, furthest: datetime) -> None:
        """A clock that was set back is right again, before anybody compares."""
        if self.world.clock.now < furthest:
            self.world.clock.now = furthest + timedelta(seconds=41)
            self.told.append("the clock is right again")
            settle_due()
            tick()

    def call(self, call: Call, *, worker: bool) -> None:
        """One call; what it put off until it is committed is done if there is a worker."""
        self.told.append(str(call))
        client = self.world.clients[call.who]
        if call.who == "stranger":
            self.typed_by_strangers.append(unquote_plus(call.body.decode("utf-8", "replace")))
        with TestCase.captureOnCommitCallbacks() as put_off:
            answer = _answered(client, call)
        self.told[-1] += f" -> {answer.status_code}"
        self.answers[f"{answer.status_code // 100}xx"] += 1
        if answer.status_code >= 500 and answer.exc_info:
            raise answer.exc_info[1]
        checks.answer_is_in_order(self.world, call, answer)
        if worker:
            for act in put_off:
                act()

    def _sign_in(self) -> None:
        for name, client in self.world.clients.items():
            client.cookies = SimpleCookie()
            if kept := self._sessions[name]:
                client.cookies[settings.SESSION_COOKIE_NAME] = kept.value
        cache.clear()


PARTS: tuple[Callable[[list[Call]], list[Call]], ...] = (
    lambda looks: looks[:1],
    lambda looks: looks[::7],
    lambda looks: looks[3::7],
    lambda looks: looks[5::6],
)


def _answered(client: Client, call: Call) -> Any:
    """The answer, as a server would give it."""
    given: dict[str, Any] = {"headers": call.headers}
    with transaction.atomic():
        if call.files is not None:
            answer = client.post(call.path, call.files, **given)
        else:
            answer = client.generic(call.method, call.path, call.body, call.kind, **given)
    return answer


@contextmanager
def undone() -> Iterator[None]:
    """A block of which nothing stays in the database."""
    kept = connection.run_on_commit
    with transaction.atomic():
        yield
        transaction.set_rollback(True)
    connection.run_on_commit = kept
