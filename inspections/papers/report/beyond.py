"""Lines of working beside a finding's sentences, without those that repeat one of them."""

from collections.abc import Callable, Iterator

from config.messages.message import Joined, Text, Value
from inspections.checker.finding import FindingWords


def working_beyond(words: FindingWords, tell: Callable[[Value], str]) -> tuple[Value, ...]:
    """The lines that read otherwise than each sentence of the finding, as `tell` writes both."""
    read = {tell(part) for part in _parts(words.says)}
    return tuple(line for line in words.working if tell(line) not in read)


def _parts(value: Value) -> Iterator[Value]:
    """A value, and each that is joined in it or fills a hole of it."""
    yield value
    within: tuple[Value, ...] = ()
    if isinstance(value, Joined):
        within = value.of
    elif isinstance(value, Text):
        within = tuple(value.given.values())
    for each in within:
        yield from _parts(each)
