"""Parts of a load at falling shares, as demand factors are written."""

from collections.abc import Sequence

from config.messages.message import Joined, Text, VoltAmperes

from .line_messages import at_share


def demand(total: float, parts: Sequence[tuple[float, float]]) -> float:
    """The demand of a total: up to each bound its share in percent, the last bound infinite."""
    result = below = 0.0
    for bound, share in parts:
        within = max(0.0, min(total, bound) - below)
        result += within * share / 100
        below = bound
    return result


def demand_words(total: float, parts: Sequence[tuple[float, float]]) -> Joined:
    """The working of that demand: 3,000 VA at 100 % + 6,000 VA at 35 %."""
    words: list[Text] = []
    below = 0.0
    for bound, share in parts:
        within = max(0.0, min(total, bound) - below)
        if within or (bound and not words):
            words.append(at_share(VoltAmperes(within), share))
        below = bound
    return Joined(tuple(words), " + ")
