"""From where a change came: a page, the API, a command."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_origin: ContextVar[str] = ContextVar("origin", default="command")


def origin() -> str:
    """From where the change that is being made came."""
    return _origin.get()


@contextmanager
def coming_from(name: str) -> Iterator[None]:
    """Changes made within the block come from there."""
    token = _origin.set(name)
    try:
        yield
    finally:
        _origin.reset(token)
