"""Work on what somebody sent, in a process of its own with bounded memory and time.

What breaks there, or asks for more than it may, harms nothing here; and what it took goes back to
the machine with it.
"""

import resource
import subprocess
import sys
from pathlib import Path
from typing import BinaryIO

ROOT = Path(__file__).resolve().parents[1]
MEMORY_BYTES = 350_000_000
"""Of data of its own; libraries that it maps come on top, shared with others."""
ADDRESS_BYTES = 4_000_000_000
"""Of addresses, mapped libraries among them: a backstop."""


class CameToNothing(Exception):
    """It died, or was ended: by its bounds or by a fault of a library."""


class TookTooLong(CameToNothing):
    """It was ended for the time it took."""


def ask_apart(
    module: str,
    *given: str,
    seconds: int,
    sent: BinaryIO | None = None,
    memory: int = MEMORY_BYTES,
) -> bytes:
    """What the module prints when it is run by itself, `sent` being its input.

    Raises CameToNothing when it ends otherwise than by itself, TookTooLong by the clock.
    """
    try:
        done = subprocess.run(
            [
                sys.executable,
                "-m",
                "config.child_process",
                module,
                str(seconds),
                str(memory),
                *given,
            ],
            cwd=ROOT,
            stdin=subprocess.DEVNULL if sent is None else sent,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=seconds * 2,
            check=False,
        )
    except subprocess.TimeoutExpired:
        raise TookTooLong(module) from None
    if done.returncode < 0:
        raise CameToNothing(f"{module}: ended by signal {-done.returncode}")
    return done.stdout


def bound(seconds: int, memory: int) -> None:
    """Take no more than so much from here on."""
    resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
    resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_BYTES, ADDRESS_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def main(module: str, seconds: str, memory: str, *given: str) -> int:
    """Run the module's `main` within bounds; its exit code."""
    from importlib import import_module

    bound(int(seconds), int(memory))
    code: int = import_module(module).main(*given)
    return code


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
