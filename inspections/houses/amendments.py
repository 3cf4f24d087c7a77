"""A shop's amendments of a rulebook, as they stand and as text that a rulebook takes."""

from collections.abc import Mapping
from typing import Any

import tomli_w

from config.messages.message import Text
from config.messages.saying import said
from inspections.checker.amendments import load_rulebook
from inspections.checker.rulebook import Limit, Rulebook
from inspections.houses import amendment_messages as words
from inspections.models import Amendment, HouseRevision
from inspections.selectors import latest_revision
from jobs.models import Job, Shop


class NotAValue(ValueError):
    """What was typed is no value of a limit; `text` says what is wanted."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(said(text))


def amendments_of(shop: Shop, rulebook: str) -> Mapping[str, Amendment]:
    """The amendments that stand, by limit."""
    latest: dict[str, Amendment] = {}
    for each in shop.amendments.filter(rulebook=rulebook).select_related("made_by"):
        latest[each.limit] = each
    standing = {}
    for name, each in sorted(latest.items()):
        if each.value is not None:
            standing[name] = each
    return standing


def overlay(shop: Shop, entries: Mapping[str, Amendment]) -> str:
    """The amendments as `checker.load_rulebook` takes them; empty where there is none."""
    if not entries:
        return ""
    amend = []
    for each in entries.values():
        amend.append(
            {"limit": each.limit, "value": each.value, "unit": each.unit, "reason": each.reason}
        )
    return tomli_w.dumps({"name": f"Amendments of {shop}", "amend": amend})


def shop_overlay(shop: Shop, rulebook: str) -> str:
    """The amendments of a shop that stand, as text."""
    return overlay(shop, amendments_of(shop, rulebook))


def rulebook_of_shop(shop: Shop, rulebook: str) -> Rulebook:
    """The rulebook as the shop has it now. Raises checker.RulebookFault when there is none."""
    return load_rulebook(rulebook, shop_overlay(shop, rulebook))


def checked_otherwise(job: Job) -> HouseRevision | None:
    """The job's latest revision, when the shop has amended its rulebook since; else None."""
    revision = latest_revision(job)
    if revision is None or revision.amendments == shop_overlay(job.shop, revision.rulebook):
        return None
    return revision


def limit_value_typed(limit: Limit, text: str) -> Any:
    """What somebody typed as a value of a limit, in the limit's own kind.

    A list comes with commas, a table as name and number pairs with commas, a choice as yes or no.
    Raises NotAValue with what is wanted.
    """
    text, was = text.strip(), limit.value
    if isinstance(was, bool):
        if text.lower() not in ("yes", "no"):
            raise NotAValue(words.YES_OR_NO())
        return text.lower() == "yes"
    if isinstance(was, list):
        listed = []
        for word in text.split(","):
            if word.strip():
                listed.append(word.strip())
        return listed
    if isinstance(was, dict):
        figures = {}
        for part in text.split(","):
            name, _, value = part.strip().rpartition(" ")
            figures[name.strip()] = _number(value)
        return figures
    return _number(text)


def amendable(limit: Limit) -> bool:
    """Whether a limit can be set otherwise: a number, a choice, a list or a table of numbers."""
    was = limit.value
    return not any(
        isinstance(each, str) for each in (was.values() if isinstance(was, dict) else [was])
    )


def text_of(limit: Limit) -> str:
    """The value of a limit that is amendable, as `value_of` reads it."""
    value = limit.value
    if isinstance(value, bool):
        if value:
            return "yes"
        return "no"
    if isinstance(value, list):
        return ", ".join(map(str, value))
    if isinstance(value, dict):
        figures = []
        for name, each in value.items():
            figures.append(f"{name} {each:.12g}")
        return ", ".join(figures)
    return f"{value:.12g}"


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise NotAValue(words.NOT_A_NUMBER(typed=text)) from None
