"""Counts and topics of a checklist as links that filter it; what they ask stands in the address."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from config.messages.message import Text
from inspections.overview.line_states import LineState, line_state, state_counts
from inspections.selectors import ChecklistLine
from inspections.standing.holds import Seen
from inspections.standing.shown_messages import INFO_NEEDED, NOT_TO_CODE, SEEN, VERIFY
from pages.jobs.page_messages import TOPICS
from pages.jobs.room_rows import LinesWanted, topic_of

STATES = {
    LineState.NOT_TO_CODE: NOT_TO_CODE,
    LineState.INFO_NEEDED: INFO_NEEDED,
    LineState.VERIFY: VERIFY,
    LineState.OK: SEEN[Seen.OK],
}


@dataclass(frozen=True, slots=True)
class FilterLink:
    """Some lines of a checklist by what they have in common, and the query that shows them alone.

    One that is chosen already leads back to all.
    """

    key: str
    words: Text
    n: int
    address: str
    chosen: bool


def state_links(lines: Sequence[ChecklistLine], asked: LinesWanted) -> list[FilterLink]:
    """The four states, each with how many lines are in it."""
    links: list[FilterLink] = []
    for state, n in state_counts(lines).items():
        chosen = asked.show is state
        address = asked.address(show=None if chosen else state, room=None, item=None)
        links.append(FilterLink(state, STATES[state](), n, address, chosen))
    return links


def topic_links(lines: Sequence[ChecklistLine], asked: LinesWanted) -> list[FilterLink]:
    """What the lines that want something done are about, the most frequent first.

    With OK chosen, what the lines that are OK are about.
    """
    counts: Counter[str] = Counter()
    for line in lines:
        state = line_state(line)
        wanted = state is asked.show
        if asked.show is None:
            wanted = state in (LineState.NOT_TO_CODE, LineState.INFO_NEEDED)
        if wanted:
            counts[topic_of(line.item)] += 1
    links: list[FilterLink] = []
    for topic, n in counts.most_common():
        if topic in TOPICS:
            chosen = asked.topic == topic
            address = asked.address(topic=None if chosen else topic, room=None, item=None)
            links.append(FilterLink(topic, TOPICS[topic](), n, address, chosen))
    return links
