"""Clients who send half and read slowly, and how long others wait meanwhile.

python -m tests.config.slow HOST:PORT [SECONDS [HALF [READERS]]] prints it as JSON.
"""

import asyncio
import contextlib
import json
import random
import socket
import sys
import time

HALVES = (
    b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: ",
    b"POST /sign-in/ HTTP/1.1\r\nHost: localhost\r\nContent-Type: "
    b"application/x-www-form-urlencoded\r\nContent-Length: 900\r\n\r\nusername=a",
    b"POST /api/jobs HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer none\r\n"
    b"Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n5\r\n",
    b"G",
)
LARGE = "/static/fonts/IBMPlexSansCondensed-Regular.ttf"
HEAD = "Host: localhost\r\nX-Forwarded-Proto: https\r\nConnection: close\r\n\r\n"


async def half(address: tuple[str, int], number: int, until: float) -> None:
    """Send half a request, then a byte now and then; again when the server has enough."""
    chance = random.Random(number)
    while time.monotonic() < until:
        with contextlib.suppress(OSError, asyncio.IncompleteReadError):
            reader, writer = await asyncio.open_connection(*address)
            try:
                writer.write(HALVES[number % len(HALVES)])
                await writer.drain()
                while time.monotonic() < until and not reader.at_eof():
                    await asyncio.sleep(min(chance.uniform(3, 9), max(0, until - time.monotonic())))
                    writer.write(b"a")
                    await writer.drain()
            finally:
                writer.close()
        await asyncio.sleep(0.2)


async def slow_reader(address: tuple[str, int], until: float) -> None:
    """Ask for a file, many times over one connection, and read next to nothing of it."""
    loop = asyncio.get_running_loop()
    while time.monotonic() < until:
        line = socket.socket()
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 2048)
        line.setblocking(False)
        with contextlib.suppress(OSError):
            await loop.sock_connect(line, address)
            asked = f"GET {LARGE} HTTP/1.1\r\n{HEAD}".replace("Connection: close\r\n", "")
            await loop.sock_sendall(line, asked.encode() * 20)
            while time.monotonic() < until:
                if not await loop.sock_recv(line, 64):
                    break
                await asyncio.sleep(0.5)
        line.close()
        await asyncio.sleep(0.2)


async def probe(address: tuple[str, int], path: str, until: float, waits: list[float]) -> None:
    """Ask for a page again and again, and write down how long each answer took."""
    while time.monotonic() < until:
        began = time.monotonic()
        reader, writer = await asyncio.open_connection(*address)
        writer.write(f"GET {path} HTTP/1.1\r\n{HEAD}".encode())
        await writer.drain()
        answer = await reader.read()
        writer.close()
        if not answer.startswith(b"HTTP/1.1 200"):
            raise AssertionError(f"{path} answers {answer[:60]!r}")
        waits.append(time.monotonic() - began)
        await asyncio.sleep(0.2)


async def crowd(
    address: tuple[str, int], seconds: float, halves: int, readers: int
) -> dict[str, float]:
    """All at once; the slowest answers of those who do nothing wrong."""
    until = time.monotonic() + seconds
    healthy: list[float] = []
    page: list[float] = []
    slow = [asyncio.create_task(half(address, number, until)) for number in range(halves)]
    slow += [asyncio.create_task(slow_reader(address, until)) for _ in range(readers)]
    await asyncio.sleep(min(2, seconds / 4))
    await asyncio.gather(
        probe(address, "/healthy", until, healthy), probe(address, "/sign-in/", until, page)
    )
    for task in slow:
        task.cancel()
    await asyncio.gather(*slow, return_exceptions=True)
    return {
        "seconds": seconds,
        "half_sent": halves,
        "slow_readers": readers,
        "asked": len(healthy) + len(page),
        "slowest_healthy": round(max(healthy), 2),
        "slowest_page": round(max(page), 2),
    }


def main(address: str, seconds: str = "60", halves: str = "500", readers: str = "50") -> None:
    """Print what others waited."""
    host, _, port = address.rpartition(":")
    told = crowd((host, int(port)), float(seconds), int(halves), int(readers))
    print(json.dumps(asyncio.run(told)))


if __name__ == "__main__":
    main(*sys.argv[1:])
