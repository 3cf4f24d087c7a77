"""Lines of working beside a finding's sentences, without those that repeat one of them."""

from collections.abc import Callable

from config.messages.message import Joined, Value
from inspections.checker.finding import FindingWords


def working_beyond(words: FindingWords, tell: Callable[[Value], str]) -> tuple[Value, ...]:
    """The lines that read otherwise than each sentence of the finding, as `tell` writes both."""
    sentences: tuple[Value, ...] = (words.says,)
    if isinstance(words.says, Joined):
        sentences = words.says.of
    read = {tell(sentence) for sentence in sentences}
    return tuple(line for line in words.working if tell(line) not in read)
