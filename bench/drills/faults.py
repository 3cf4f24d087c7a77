"""What goes wrong, each fault by name; all of them are over again when the function returns."""

import os
import random
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable

from .poison import hopeless
from .stack import ROOT, Stack

Fault = Callable[[Stack, random.Random], None]
HOUR = 3600


def _killed(name: str) -> Fault:
    def fault(stack: Stack, chance: random.Random) -> None:
        stack.kill(name)
        time.sleep(chance.random() * 0.5)
        stack.start(name)

    return fault


def _web_child(stack: Stack, _chance: random.Random) -> None:
    stack.kill_web_child()


def _broker_emptied(stack: Stack, _chance: random.Random) -> None:
    stack.empty_broker()


def _broker_gone(stack: Stack, chance: random.Random) -> None:
    stack.kill("broker")
    time.sleep(0.5 + chance.random())
    stack.start("broker")


def _postgres_killed(stack: Stack, chance: random.Random) -> None:
    stack.kill_postgres()
    time.sleep(chance.random())
    stack.start_postgres()


def _postgres_away(stack: Stack, _chance: random.Random) -> None:
    stack.kill_postgres()
    time.sleep(AWAY)
    stack.start_postgres()


AWAY = 5.0  # seconds in the short form; a minute in the long one


def _two_beats(stack: Stack, _chance: random.Random) -> None:
    stack.start("beat-two")
    time.sleep(2)
    stack.kill("beat-two")


def _poisoned(stack: Stack, _chance: random.Random) -> None:
    stack.poison()


def _hopeless(stack: Stack, chance: random.Random) -> None:
    for _ in range(5):
        stack.send(*hopeless(chance))


def _deadly(stack: Stack, _chance: random.Random) -> None:
    stack.send("drills.deadly", [], "celery")
    time.sleep(1)  # it is `revive` that starts the worker again, as whoever runs it would


def _mail_down(stack: Stack, chance: random.Random) -> None:
    stack.kill("mail")
    time.sleep(1 + chance.random() * 2)
    stack.start("mail")


def _mail(mood: str) -> Fault:
    def fault(stack: Stack, chance: random.Random) -> None:
        stack.mood(mood)
        time.sleep(1.5 + chance.random() * 2)
        stack.mood("")

    return fault


def _disc_full(name: str) -> Fault:
    def fault(stack: Stack, chance: random.Random) -> None:
        ballast = stack.ground.fill(name)
        time.sleep(1 + chance.random() * 1.5)
        ballast.unlink()
        stack.start_postgres()  # a server that could not write its log has ended

    return fault


def _clock(seconds: int) -> Fault:
    def fault(stack: Stack, chance: random.Random) -> None:
        stack.ground.step(seconds)
        time.sleep(2 + chance.random() * 2)
        stack.ground.step(0)

    return fault


def _wire_cut(stack: Stack, chance: random.Random) -> None:
    stack.cut()
    time.sleep(1 + chance.random() * 3)
    stack.restore()


def _wire_away(stack: Stack, _chance: random.Random) -> None:
    stack.cut()
    time.sleep(AWAY)
    stack.restore()


def _severed(stack: Stack, _chance: random.Random) -> None:
    stack.running["cable"].send_signal(signal.SIGHUP)


def _migration(stack: Stack, chance: random.Random) -> None:
    """Half of them are killed at some moment, and begun again, as whoever deploys would."""
    number = len(stack.migrated) + 1
    command = [sys.executable, "-m", "bench.drills.migrating", str(number)]
    log = (stack.folder / "migrating.log").open("ab")
    env = os.environ | stack.environment
    if chance.random() < 0.5:
        first = subprocess.Popen(command, env=env, cwd=ROOT, stderr=log)
        time.sleep(0.5 + chance.random() * 1.5)
        first.kill()
        first.wait()
    stack.migrated.append(number)
    # One that failed is missed by the audit.
    subprocess.run(command, env=env, cwd=ROOT, stderr=log, check=False)
    log.close()


WEIGHTED: tuple[tuple[str, Fault, int], ...] = (
    ("site killed", _killed("web"), 4),
    ("a web process killed", _web_child, 10),
    ("worker one killed", _killed("one"), 10),
    ("worker two killed", _killed("two"), 10),
    ("worker three killed", _killed("three"), 8),
    ("beat killed", _killed("beat"), 6),
    ("two beats", _two_beats, 2),
    ("broker emptied", _broker_emptied, 8),
    ("broker killed and empty", _broker_gone, 5),
    ("poisoned messages", _poisoned, 6),
    ("hopeless tasks", _hopeless, 5),
    ("a task that kills its worker", _deadly, 3),
    ("mail server down", _mail_down, 4),
    ("mail server slow", _mail("slow"), 3),
    ("mail server busy", _mail("busy"), 2),
    ("mail server hangs up", _mail("closing"), 2),
    ("database killed", _postgres_killed, 4),
    ("database's disc full", _disc_full("data"), 4),
    ("disc for photographs full", _disc_full("var"), 4),
    ("clock an hour ahead", _clock(HOUR), 3),
    ("clock an hour behind", _clock(-HOUR), 3),
    ("wire to the database cut", _wire_cut, 5),
    ("connections to the database broken", _severed, 6),
    ("a migration under load", _migration, 3),
)
"""Faults that are drawn, and how often."""
ONCE: tuple[tuple[str, Fault], ...] = (
    ("database away", _postgres_away),
    ("wire to the database cut for long", _wire_away),
)


def _possible(stack: Stack, name: str) -> bool:
    if "disc" in name:
        return stack.ground.discs
    if "clock" in name:
        return stack.ground.library is not None
    return True


def drawn(stack: Stack, count: int, seed: int, only: str | None = None) -> list[tuple[str, Fault]]:
    """So many faults in an order of their own, each kind that the machine allows at least once
    where there is room; `only` those in whose name that expression is found.
    """

    def wanted(name: str) -> bool:
        return re.search(only or "", name) is not None

    chance = random.Random(seed)
    kinds = []
    for each in WEIGHTED:
        if _possible(stack, each[0]) and wanted(each[0]):
            kinds.append(each)
    names = [(name, fault) for name, fault, _ in kinds]
    weights = []
    for *_, weight in kinds:
        weights.append(weight)
    once = []
    for each in ONCE:
        if wanted(each[0]):
            once.append(each)
    rest = 0
    if names:
        rest = max(0, count - len(names) - len(once))
    found = [*names, *once, *(chance.choices(names, weights=weights, k=rest) if rest else ())]
    if len(found) > count:  # no room for every kind: whichever come
        found = chance.sample(found, count)
    chance.shuffle(found)
    return found
