"""A cable between the site and the database: `python -m bench.drills.cable HOST PORT SOCKET`.

It hands on every byte. SIGUSR1: it keeps all of them and says nothing; SIGUSR2: they go on.
SIGHUP: every connection breaks.
"""

import asyncio
import contextlib
import signal
import socket
import sys

PIECE = 65536


class Wire:
    """What goes from a port to a socket and back."""

    def __init__(self, path: str) -> None:
        self._path = path
        self._whole = asyncio.Event()
        self._whole.set()
        self._open: set[asyncio.StreamWriter] = set()

    def silence(self) -> None:
        """Nothing comes through any more."""
        self._whole.clear()

    def restore(self) -> None:
        """It comes through again, what waited first."""
        self._whole.set()

    def sever(self) -> None:
        """Every connection breaks."""
        for writer in list(self._open):
            writer.transport.abort()

    async def join(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        """Hand on one connection until either side ends it."""
        _keep_asking(writer.get_extra_info("socket"))
        await self._whole.wait()
        try:
            inner, outer = await asyncio.open_unix_connection(self._path)
        except OSError:
            writer.transport.abort()  # the database is away
            return
        ends = {writer, outer}
        self._open |= ends
        pumps = {
            asyncio.create_task(self._pump(reader, outer)),
            asyncio.create_task(self._pump(inner, writer)),
        }
        await asyncio.wait(pumps, return_when=asyncio.FIRST_COMPLETED)
        for pump in pumps:
            pump.cancel()
        for end in ends:
            end.close()
        self._open -= ends

    async def _pump(self, reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        with contextlib.suppress(OSError):
            while piece := await reader.read(PIECE):
                await self._whole.wait()
                writer.write(piece)
                await writer.drain()


def _keep_asking(line: socket.socket) -> None:
    """Find out within 19 s that nobody is there, as the database does by its own keepalives: else
    a transaction of somebody who was cut off keeps its locks for hours.
    """
    line.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
    asked = {"TCP_KEEPIDLE": 10, "TCP_KEEPINTVL": 3, "TCP_KEEPCNT": 3}
    for name, value in asked.items():
        line.setsockopt(socket.IPPROTO_TCP, getattr(socket, name), value)


async def serve(host: str, port: int, path: str) -> None:
    """Hand on until killed."""
    cable, loop = Wire(path), asyncio.get_running_loop()
    loop.add_signal_handler(signal.SIGUSR1, cable.silence)
    loop.add_signal_handler(signal.SIGUSR2, cable.restore)
    loop.add_signal_handler(signal.SIGHUP, cable.sever)
    server = await asyncio.start_server(cable.join, host, port)
    async with server:
        await server.serve_forever()


if __name__ == "__main__":
    asyncio.run(serve(sys.argv[1], int(sys.argv[2]), sys.argv[3]))
