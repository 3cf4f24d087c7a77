"""What the drills rest on: which faults come, and a cable that can be cut."""

import asyncio
from collections import Counter
from pathlib import Path
from types import SimpleNamespace

import pytest

from bench.drills.__main__ import QUICK
from bench.drills.cable import Wire
from bench.drills.faults import ONCE, WEIGHTED, drawn

ABLE = SimpleNamespace(ground=SimpleNamespace(discs=True, library=Path("clock.so")))
UNABLE = SimpleNamespace(ground=SimpleNamespace(discs=False, library=None))


def _names(stack, count: int, seed: int = 1, only: str | None = None) -> list[str]:
    return [name for name, _ in drawn(stack, count, seed, only)]


def test_the_quick_form_has_each_kind_once() -> None:
    kinds = {name for name, *_ in [*WEIGHTED, *ONCE]}
    assert Counter(_names(ABLE, QUICK)) == Counter(kinds)


def test_a_seed_gives_the_same_order_and_another_one_another() -> None:
    assert _names(ABLE, 60, 5) == _names(ABLE, 60, 5) != _names(ABLE, 60, 6)
    assert len(_names(ABLE, 60)) == 60
    assert len(_names(ABLE, 3)) == 3


def test_what_the_machine_refuses_does_not_come() -> None:
    names = _names(UNABLE, 60)
    assert len(names) == 60
    assert not any("disc" in name or "clock" in name for name in names)


def test_only_those_that_are_asked_for_come() -> None:
    assert set(_names(ABLE, 9, only="clock")) == {"clock an hour ahead", "clock an hour behind"}


SOON = 5.0  # seconds, after which a test has failed


async def _cabled(folder: Path):
    """A cable to a server that says everything back; the cable, and a connection through it."""

    async def back(reader, writer) -> None:
        while piece := await reader.read(100):
            writer.write(piece)
        writer.close()

    cable = Wire(str(folder / "s"))
    inner = await asyncio.start_unix_server(back, folder / "s")
    outer = await asyncio.start_server(cable.join, "127.0.0.1", 0)
    port = outer.sockets[0].getsockname()[1]
    return cable, (inner, outer), await asyncio.open_connection("127.0.0.1", port)


@pytest.mark.parametrize("cut", [False, True])
def test_a_cable_hands_on_and_falls_silent_and_goes_on(tmp_path, cut: bool) -> None:
    async def run() -> None:
        cable, servers, (reader, writer) = await _cabled(tmp_path)
        writer.write(b"one")
        assert await asyncio.wait_for(reader.readexactly(3), SOON) == b"one"
        if cut:
            cable.silence()
        writer.write(b"two")
        reading = asyncio.ensure_future(reader.readexactly(3))
        done, _ = await asyncio.wait({reading}, timeout=0.2 if cut else SOON)
        assert bool(done) != cut
        cable.restore()
        assert await asyncio.wait_for(reading, SOON) == b"two"
        writer.close()
        for server in servers:
            server.close()

    asyncio.run(run())


def test_a_severed_cable_breaks_what_is_open(tmp_path) -> None:
    async def run() -> None:
        cable, servers, (reader, writer) = await _cabled(tmp_path)
        writer.write(b"one")
        await asyncio.wait_for(reader.readexactly(3), SOON)
        cable.sever()
        with pytest.raises((ConnectionResetError, asyncio.IncompleteReadError)):
            await asyncio.wait_for(reader.readexactly(1), SOON)
        writer.close()
        for server in servers:
            server.close()

    asyncio.run(run())
