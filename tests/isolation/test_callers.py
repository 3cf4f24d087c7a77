"""Who gets in with a body that is taken, and what everybody is told of what is another shop's.

`tests/test_access.py` asks of every address whether its door opens, with bodies that will not do. A
door that is only shut by its body would open here: each body that is taken is sent by everybody,
and whoever stands in no line of `tests/access.toml` gets in with none of them (OWASP ASVS 5.0.0:
8.2.1, 8.2.2, 8.3.1).
"""

from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client

from tests.isolation.answers import answered, status_of
from tests.isolation.bodies import BODIES
from tests.isolation.calls import READ, Call, path_of
from tests.isolation.foreign import Named, foreign_calls
from tests.isolation.world import World
from tests.lengths import in_part
from tests.matrix import addresses

pytestmark = [pytest.mark.django_db, pytest.mark.any_database]
WHO = "nolmbx"
"""Nobody, office, crew lead, crew member, builder, office of another shop."""
IN_CI = 8
"""One call in eight on each run; `make proof` tries all."""


@pytest.fixture
def everybody(clients: dict[str, Client], stranger_shop) -> dict[str, Client]:
    """A client for each kind of caller."""
    other = Client()
    other.force_login(stranger_shop.office)
    return clients | {"n": Client(), "x": other}


def bodies_sent(world: World) -> Iterator[tuple[str, Call]]:
    """Every body that is taken, by everybody, with whoever it is written for."""
    for name, pattern in addresses():
        for body in BODIES.get(name, ()):
            more = body.ids(world) if body.ids else {}
            path = path_of(name, pattern, world, more) + body.query
            for caller in WHO:
                yield body.caller, Call(name, caller, body.method, path, body)


def part_of(calls: list[Any]) -> list[Any]:
    """Those that this run tries."""
    return [call for number, call in enumerate(calls) if in_part(str(number), IN_CI)]


def test_no_body_opens_a_door_that_the_table_shuts(world, everybody, capsys) -> None:
    faults, count, opened = [], 0, set()
    for number, (meant, call) in enumerate(part_of(list(bodies_sent(world)))):
        status, is_in = status_of(everybody[call.caller], call, world, number)
        line = f"{call.name} {call.method}"
        count += 1
        if status >= 500:
            faults.append(f"{call}: {status}")
        if is_in:
            opened.add((line, call.caller))
            if call.caller not in READ.get(line, ""):
                faults.append(f"{call}: {status}, and no line lets it in")
        elif meant == call.caller and READ.get(line):
            faults.append(f"{call}: {status}, though it is written for them")
    assert not faults, "\n".join(faults[:60])
    with capsys.disabled():
        print(f"\n{count} bodies sent by {len(WHO)} kinds of caller; {len(opened)} doors opened")


def by_everybody(world: World, named: Named) -> list[Call]:
    """Every call that names what is not this shop's, by each who can sign in to this one."""
    made = []
    for call in foreign_calls(world, named):
        callers = WHO.replace("x", "") if call.body else call.caller
        made += [Call(call.name, who, call.method, call.path, call.body) for who in callers]
    return made


def test_everybody_is_told_the_same_of_what_is_anothers(world, everybody, capsys) -> None:
    theirs, nowhere = Named(theirs=True), Named(theirs=False)
    pairs = list(zip(by_everybody(world, theirs), by_everybody(world, nowhere), strict=True))
    pairs = part_of(pairs)
    faults = []
    for number, (call, other) in enumerate(pairs):
        got = answered(everybody[call.caller], call, world, number)
        expected = answered(everybody[other.caller], other, world, number)
        told = (got.status, theirs.hidden(got.body.decode("latin-1")))
        if told != (expected.status, nowhere.hidden(expected.body.decode("latin-1"))):
            faults.append(f"{call}: {got.status}, and of what is nowhere {expected.status}")
        if max(got.status, expected.status) >= 500:
            faults.append(f"{call}: {got.status}, {expected.status}")
    assert not faults, "\n".join(faults[:60])
    with capsys.disabled():
        print(f"\n{len(pairs)} calls of what is another's, by everybody: told as of nothing")
