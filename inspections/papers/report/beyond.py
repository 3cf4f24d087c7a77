"""Lines of working beside a sentence: what its reader has heard is not said to him again."""

from collections.abc import Callable

from config.messages.message import Value
from inspections.checker.finding import FindingWords


def working_beyond(words: FindingWords, tell: Callable[[Value], str]) -> tuple[Value, ...]:
    """The lines that the sentence does not hold word for word, in the reader's words and units."""
    heard = tell(words.says)
    return tuple(line for line in words.working if tell(line) not in heard)
