"""What is counted in Redis, and what follows while Redis is away.

Limits fail open: while calls cannot be counted they are let through, and the log says so. A code is
taken once, and wrong ones are counted, by the database (`jobs.services.factors`); that holds on.
"""

import logging
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.core.cache.backends.redis import RedisCache
from redis.exceptions import RedisError

_log = logging.getLogger(__name__)


def _or(instead: Any) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Answer that, where Redis does not answer."""

    def forgiving(method: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(method)
        def answer(self: Any, *args: Any, **given: Any) -> Any:
            try:
                return method(self, *args, **given)
            except (RedisError, OSError) as fault:
                _log.warning("Redis is away, calls are not counted: %s", type(fault).__name__)
                return instead

        return answer

    return forgiving


class ForgivingRedisCache(RedisCache):
    """Redis; while it is away nothing is found, and whatever is written is taken to be new."""

    add = _or(True)(RedisCache.add)
    set = _or(None)(RedisCache.set)
    touch = _or(True)(RedisCache.touch)
    delete = _or(False)(RedisCache.delete)
    has_key = _or(False)(RedisCache.has_key)

    def get(self, key: str, default: Any = None, version: int | None = None) -> Any:
        """What is kept, or the default."""
        nothing = object()
        found = _or(nothing)(RedisCache.get)(self, key, nothing, version)
        if found is nothing:
            return default
        return found
