"""Lines of working beside a finding's sentences, without those that repeat one of them."""

from collections.abc import Callable, Iterable, Iterator

from config.messages.message import Joined, Text, Value
from inspections.checker.finding import FindingWords


def working_beyond(words: FindingWords, tell: Callable[[Value], str]) -> tuple[str, ...]:
    """The lines, as `tell` writes them, that read otherwise than each sentence of the finding."""
    if not words.working:
        return ()
    read = {tell(part) for part in _sentences(words.says)}
    lines = (tell(line) for line in words.working)
    return tuple(line for line in lines if line not in read)


def _sentences(value: Value) -> Iterator[Value]:
    """A value, and each sentence or part of one that is joined in it or fills a hole of it."""
    yield value
    within: Iterable[Value] = ()
    if isinstance(value, Joined):
        within = value.of
    elif isinstance(value, Text):
        within = value.given.values()
    for each in within:
        if isinstance(each, Joined | Text | str):
            yield from _sentences(each)
