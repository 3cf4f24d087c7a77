"""What is another shop's is answered as what is nowhere: the same bytes, and no row of it read."""

import pytest

from tests import stranger
from tests.isolation.answers import answered, differences
from tests.isolation.foreign import Named, foreign_calls
from tests.lengths import in_part

pytestmark = pytest.mark.django_db


def test_what_is_anothers_is_answered_as_what_is_nowhere(world, clients, capsys) -> None:
    theirs, nowhere = Named(theirs=True), Named(theirs=False)
    pairs = list(zip(foreign_calls(world, theirs), foreign_calls(world, nowhere), strict=True))
    faults = []
    tried = 0
    for number, (call, other) in enumerate(pairs):
        if not in_part(f"{number} {call.name} {call.caller}"):
            continue
        tried += 1
        got = answered(clients[call.caller], call, world, number)
        expected = answered(clients[other.caller], other, world, number)
        for answer, named in ((got, theirs), (expected, nowhere)):
            answer.body = named.hidden(answer.body.decode("latin-1")).encode("latin-1")
            answer.head.pop("Content-Length", None)
            answer.head = {name: named.hidden(value) for name, value in answer.head.items()}
            answer.messages = [(level, named.hidden(text)) for level, text in answer.messages]
            answer.cookies = "messages" if "messages=" in answer.cookies else ""
            answer.logged = [named.hidden(line) for line in answer.logged]
            answer.asked = [(named.hidden(sql), named.hidden(row)) for sql, row in answer.asked]
        faults += [f"{call}: {each}" for each in differences(expected, got)]
        if stranger.MARK in repr((got.body, got.messages, got.sent, got.logged)).lower():
            faults.append(f"{call}: tells of the stranger")
        if max(got.status, expected.status) >= 500:
            faults.append(f"{call}: {got.status}, {expected.status}")
    assert not faults, "\n".join(faults[:40])
    with capsys.disabled():
        print(f"\n{tried} calls that name what is another's: answered as for what is nowhere")
