"""What a worker makes while somebody waits for it ends in words, whatever breaks.

A plan or a pack whose making raises is failed and says so. One during which the database went away,
or whose worker died, is taken up again by the sweep, so often and no oftener.
"""

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.db import InterfaceError, OperationalError

from config.messages.message import message

TRIES = 3
"""How often a worker takes something up before it is failed."""
BROKE = message(
    "making.broke",
    "Something failed while this was made. It is logged for whoever runs the site; ask again.",
)
"""What the page says of it."""

log = logging.getLogger(__name__)


@contextmanager
def ends_in_words(what: str, fail: Callable[[], object]) -> Iterator[None]:
    """Run `fail` when making `what` raises anything but that the database is away."""
    try:
        yield
    except (OperationalError, InterfaceError):
        raise  # nothing can be written now; it stays asked for, and is taken up again
    except Exception:  # whatever breaks, somebody waits for an answer
        log.exception("%s could not be made", what)
        fail()
