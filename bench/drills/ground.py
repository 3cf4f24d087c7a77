"""What this machine lets a drill do to discs, wires and clocks, and what is left out without it.

A full disc is a small file system of its own; a cut wire a link between two network namespaces
that is taken down; a stepped clock is `clock.c` before the system's, in each process of ours.
Whatever the machine refuses is named in `left_out` and told at the end.
"""

import os
import struct
import subprocess
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

DISCS = {"data": "448m", "var": "24m"}
SOURCE = Path(__file__).with_name("clock.c")


@dataclass(frozen=True, slots=True)
class Wires:
    """Two links to a namespace of the site's own: one to people and broker, one to the database."""

    namespace: str
    number: int

    @property
    def site(self) -> str:
        """Where the site listens."""
        return f"198.18.{self.number}.2"  # the range for benchmarks, RFC 2544

    @property
    def here(self) -> str:
        """Where the site finds the broker."""
        return f"198.18.{self.number}.1"

    @property
    def database(self) -> str:
        """Where the site finds the database."""
        return f"198.18.{self.number}.5"

    def lay(self) -> None:
        """Make them. Raises CalledProcessError or OSError where the machine forbids it."""
        name = self.namespace
        _do("ip", "netns", "add", name)
        for end, inner, last in (("s", "site", 0), ("d", "data", 4)):
            _do("ip", "link", "add", name + end, "type", "veth", "peer", inner, "netns", name)
            base = f"198.18.{self.number}."
            _do("ip", "addr", "add", f"{base}{last + 1}/30", "dev", name + end)
            _do("ip", "link", "set", name + end, "up")
            _do("ip", "-n", name, "addr", "add", f"{base}{last + 2}/30", "dev", inner)
            _do("ip", "-n", name, "link", "set", inner, "up")
        _do("ip", "-n", name, "link", "set", "lo", "up")

    def cut(self) -> None:
        """Nothing comes through to the database, and nobody is told."""
        _do("ip", "link", "set", f"{self.namespace}d", "down")

    def restore(self) -> None:
        """It comes through again."""
        _do("ip", "link", "set", f"{self.namespace}d", "up")

    def take_up(self) -> None:
        """Away with them."""
        for end in "sd":
            with suppress(subprocess.CalledProcessError, OSError):
                _do("ip", "link", "del", self.namespace + end)
        with suppress(subprocess.CalledProcessError, OSError):
            _do("ip", "netns", "del", self.namespace)


class DrillFolder:
    """The discs, wires and clock of one drill, in its folder."""

    def __init__(self, folder: Path, *, bare: bool = False) -> None:
        """`bare` asks nothing of the machine: no discs, no namespace, no clock of our own."""
        self.folder = folder
        self.left_out: list[str] = []
        self._mounted: list[Path] = []
        for name in DISCS:
            (folder / name).mkdir()
        self.discs = not bare and self._discs()
        if bare:
            self.wires = None
        else:
            self.wires = self._wires()
        if bare:
            self.library = None
        else:
            self.library = self._library()
        self.moment = folder / "clock"
        self.step(0)

    def _discs(self) -> bool:
        for name, size in DISCS.items():
            path = self.folder / name
            try:
                _do("mount", "-t", "tmpfs", "-o", f"size={size},mode=0755", "drill", str(path))
            except (subprocess.CalledProcessError, OSError) as error:
                self.left_out.append(f"disc full: no file system can be mounted: {_said(error)}")
                return False
            self._mounted.append(path)
        return True

    def _wires(self) -> Wires | None:
        wires = Wires(f"drill{os.getpid() % 100_000}", os.getpid() % 250)
        try:
            wires.lay()
        except (subprocess.CalledProcessError, OSError) as error:
            wires.take_up()
            self.left_out.append(
                f"wire cut in a network namespace: {_said(error)}; a proxy is silent instead"
            )
            return None
        return wires

    def _library(self) -> Path | None:
        """What stands before the system's clock; it is compiled for this machine."""
        made = self.folder / "clock.so"
        command = ["cc", "-O2", "-shared", "-fPIC", "-o", str(made), str(SOURCE), "-ldl"]
        try:
            _do(*command)
        except (subprocess.CalledProcessError, OSError) as error:
            self.left_out.append(f"clock stepped: no C compiler here: {_said(error)}")
            return None
        return made

    @property
    def clock(self) -> dict[str, str]:
        """The environment of a process that goes by the clock of the drill."""
        if self.library is None:
            return {}
        return {"LD_PRELOAD": str(self.library), "DRILL_CLOCK": str(self.moment)}

    def step(self, seconds: int) -> None:
        """Set the clock so far ahead of the right time or behind it; all know at once."""
        file = os.open(self.moment, os.O_WRONLY | os.O_CREAT)
        os.pwrite(file, struct.pack("=q", seconds), 0)
        os.close(file)

    def fill(self, name: str) -> Path:
        """Leave no room on one of the discs; the file that takes it."""
        path = self.folder / name / "ballast"
        with path.open("wb") as ballast:
            piece, at = 1 << 28, 0
            while piece >= 4096:
                try:
                    os.posix_fallocate(ballast.fileno(), at, piece)
                    at += piece
                except OSError:
                    piece //= 2
        return path

    def end(self) -> None:
        """Give back what was taken of the machine."""
        for path in self._mounted:
            with suppress(subprocess.CalledProcessError, OSError):
                _do("umount", "--lazy", str(path))
        if self.wires is not None:
            self.wires.take_up()


def _do(*command: str) -> None:
    subprocess.run(command, check=True, capture_output=True, text=True)


def _said(error: Exception) -> str:
    told = getattr(error, "stderr", None) or str(error)
    return " ".join(told.split())
