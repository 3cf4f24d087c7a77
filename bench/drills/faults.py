"""What goes wrong, each fault by name; all of them are over again when the function returns."""

import random
import time
from collections.abc import Callable

from .stack import Stack

Fault = Callable[[Stack, random.Random], None]


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


AWAY = 8.0  # seconds in the short form; a minute in the long one


def _two_beats(stack: Stack, _chance: random.Random) -> None:
    stack.start("beat-two")
    time.sleep(2)
    stack.kill("beat-two")


def _poisoned(stack: Stack, _chance: random.Random) -> None:
    stack.poison()


def _mail_down(stack: Stack, chance: random.Random) -> None:
    stack.kill("mail")
    time.sleep(1 + chance.random() * 2)
    stack.start("mail")


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
    ("mail server down", _mail_down, 4),
    ("database killed", _postgres_killed, 4),
)
"""Faults that are drawn, and how often."""
ONCE: tuple[tuple[str, Fault], ...] = (("database away", _postgres_away),)


def drawn(count: int, seed: int) -> list[tuple[str, Fault]]:
    """So many faults in an order of their own, each kind at least once where there is room."""
    chance = random.Random(seed)
    names = [(name, fault) for name, fault, _ in WEIGHTED]
    weights = [weight for *_, weight in WEIGHTED]
    rest = max(0, count - len(names) - len(ONCE))
    found = [*names, *ONCE, *chance.choices(names, weights=weights, k=rest)][:count]
    chance.shuffle(found)
    return found
