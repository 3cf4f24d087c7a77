"""Rules and rulebooks explained: what a rule asks by each code, and how two codes differ."""

from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from inspect import cleandoc
from typing import Any

from config.messages.message import Listed, Text
from config.messages.saying import said

from .amendments import load_rulebook
from .finding import Rule, rules
from .rulebook import Limit, Rulebook, rulebook_ids
from .rulebook_messages import AMENDED_FROM, KNOWN_BY_MEMORY, KNOWN_BY_PRACTICE, READ_IN

KNOWN = {"memory": KNOWN_BY_MEMORY, "practice": KNOWN_BY_PRACTICE}
NONE = "–"


class UnknownRule(Exception):
    """A rule that there is not; its text names those that there are."""


def find_rule(rule_id: str) -> Rule:
    """The rule of that name. Raises UnknownRule."""
    try:
        return rules()[rule_id]
    except KeyError:
        near = get_close_matches(rule_id, rules(), 1)
        if near:
            hint = f"did you mean {near[0]}?"
        else:
            hint = f"there are {', '.join(sorted(rules()))}"
        raise UnknownRule(f"no rule {rule_id!r}; {hint}") from None


def explain_rule(rule: Rule, books: Sequence[Rulebook]) -> Iterator[str]:
    """The rule as text: what it asks, and its limits by each rulebook."""
    yield f"{rule.title} ({rule.id})"
    yield f"topic: {rule.topic}; checked at {rule.stage}"
    yield ""
    yield cleandoc(rule.doc)
    yield from _taped(rule)
    for book in books:
        yield ""
        yield f"By {book.title} ({book.id}):"
        for limit in book.limits_of(rule.id):
            yield f"  {limit_name(limit)}: {limit_shown(limit)}"
            yield f"      {limit.section}, {said(basis(limit))}"
            if limit.note:
                yield f"      {limit.note}"
        if not book.speaks_on(rule.id):
            yield "  no limit in this code; the rule says nothing"


def _taped(rule: Rule) -> Iterator[str]:
    """What is measured on site for its items, the first that applies, with the limit's name."""
    if rule.tapes:
        measures = []
        for tape in rule.tapes:
            measures.append(f"{tape.name}, {tape.comparator} `{tape.limit}`")
        each = "; ".join(measures)
        yield ""
        yield f"Measured on site: {each}. A look that its own measure contradicts does not pass."


def limit_differences(first: Rulebook, second: Rulebook) -> Iterator[str]:
    """What the second asks otherwise than the first, limit by limit."""
    count = 0
    for name in sorted({*first.limits, *second.limits}):
        line = _difference(first.get(name), second.get(name))
        if line:
            count += 1
            yield f"{name}: {line}"
    yield f"{first.id} and {second.id} differ in {count} of their limits"


def _difference(old: Limit | None, new: Limit | None) -> str:
    if old is None or new is None:
        if new is None:
            if old:
                return f"taken away; it was {limit_shown(old)} ({old.section})"
            return ""
        return f"new, {limit_shown(new)} ({new.section}, {said(basis(new))})"
    changes = []
    if (old.value, old.unit) != (new.value, new.unit):
        changes.append(f"{limit_shown(old)} to {limit_shown(new)}")
    if old.section != new.section:
        changes.append(f"section {old.section} to {new.section}")
    if old.note != new.note and new.note:
        changes.append(f"note: {new.note}")
    if changes:
        return f"{'; '.join(changes)} ({said(basis(new))})"
    return ""


def limit_name(limit: Limit) -> str:
    """A limit's name without its rule."""
    return limit.name.partition(".")[2]


def basis(limit: Limit) -> Text:
    """How a limit is known, with its source where it was read."""
    if limit.amended:
        return AMENDED_FROM(before=_value(limit.amended_from), reason=limit.reason)
    if known := KNOWN.get(limit.known):
        return known()
    return READ_IN(source=limit.source)


def limit_shown(limit: Limit) -> str:
    """A limit's value with its unit; as the code prints it first, when that is otherwise."""
    figure = f"{_value(limit.value)} {limit.unit}".rstrip()
    if limit.printed:
        return f"{limit.printed} ({figure})"
    return figure


def _value(value: Any) -> str:
    if isinstance(value, bool):
        if value:
            return "yes"
        return "no"
    if isinstance(value, dict):
        entries = []
        for key, each in value.items():
            entries.append(f"{key} {_value(each)}")
        return ", ".join(entries)
    if isinstance(value, list):
        return said(Listed(tuple(map(str, value)))) or "none"
    if isinstance(value, int | float):
        return f"{round(value, 3):,}".removesuffix(".0")
    return str(value)


def rule_markdown(rule: Rule) -> str:
    """The rule's page in Markdown: what it asks, then a table for each code."""
    return "\n".join(_page(rule)) + "\n"


def _page(rule: Rule) -> Iterator[str]:
    yield f"# {rule.title}"
    yield ""
    yield f"`{rule.id}`, topic {rule.topic}, checked at {rule.stage}. Made by `make docs`."
    yield ""
    yield cleandoc(rule.doc)
    yield from _taped(rule)
    for code, books in _by_code().items():
        yield ""
        yield f"## {code}"
        yield ""
        limits = {}
        for book in books:
            for limit in book.limits_of(rule.id):
                limits[limit.name] = limit
        names = list(limits)
        if not names:
            yield "This code has no limit for it; the rule says nothing."
            continue
        yield from _table(names, books)
        yield ""
        yield from _notes(names, books)


def _table(names: list[str], books: list[Rulebook]) -> Iterator[str]:
    editions = []
    for book in books:
        editions.append(book.edition)
    heads = ["limit", *editions, "section", "known"]
    yield _row(heads)
    yield _row(["---"] * len(heads))
    for name in names:
        limits = []
        for book in books:
            limits.append(book.get(name))
        there = []
        for limit in limits:
            if limit:
                there.append(limit)
        cells = []
        for limit in limits:
            cells.append(limit_shown(limit) if limit else NONE)
        sections = "; ".join(dict.fromkeys(limit.section for limit in there))
        known = ", ".join(dict.fromkeys(limit.known for limit in there))
        yield _row([f"`{limit_name(there[0])}`", *cells, sections, known])


def _notes(names: list[str], books: list[Rulebook]) -> Iterator[str]:
    """Where each limit was read, and what is to be said of it; an edition that agrees is one."""
    for name in names:
        editions_of: dict[str, list[str]] = {}
        for book in books:
            if limit := book.get(name):
                text = said(basis(limit))
                if limit.note:
                    text += f"; {limit.note}"
                editions_of.setdefault(text, []).append(book.edition)
        for text, editions in editions_of.items():
            yield f"- `{name.partition('.')[2]}` {', '.join(editions)}: {text}"


def _row(cells: list[str]) -> str:
    return f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |"


def _by_code() -> dict[str, list[Rulebook]]:
    by_code: dict[str, list[Rulebook]] = {}
    for name in rulebook_ids():
        book = load_rulebook(name)
        by_code.setdefault(book.code, []).append(book)
    return by_code


def pages() -> dict[str, str]:
    """Every page by its file name: one for each rule, and a list of them by topic."""
    by_file = {}
    for rule in rules().values():
        by_file[f"{rule.id}.md"] = rule_markdown(rule)
    by_file["README.md"] = "\n".join(_index()) + "\n"
    return by_file


def _index() -> Iterator[str]:
    yield "# Rules"
    yield ""
    yield (
        "One page for each rule, made from its docstring and the rulebooks by `make docs`. "
        "The adopted code with its local amendments rules, and the inspector decides."
    )
    topics: dict[str, list[Rule]] = {}
    for rule in rules().values():
        topics.setdefault(rule.topic, []).append(rule)
    for topic in sorted(topics):
        yield ""
        yield f"## {topic.capitalize()}"
        yield ""
        for rule in sorted(topics[topic], key=lambda rule: rule.title):
            yield f"- [{rule.title}]({rule.id}.md)"
