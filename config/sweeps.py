"""What beat runs over many things: one that fails keeps no other waiting."""

import logging
from collections.abc import Callable, Iterable
from uuid import UUID

log = logging.getLogger(__name__)


def each_by_itself(ids: Iterable[UUID], act: Callable[[UUID], object], noun: str) -> int:
    """Do it for each; how many it could be done for. What failed is logged, for the next beat."""
    done = 0
    for identity in ids:
        try:
            act(identity)
        except Exception:  # the others go on
            log.exception("%s %s waits for the next sweep", noun, identity)
        else:
            done += 1
    return done
