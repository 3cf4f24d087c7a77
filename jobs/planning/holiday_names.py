"""Public holidays by name, so that they are told in the reader's language.

The names are those of the `holidays` library. One that is not here is told as the library has it.
"""

from config.messages.message import Message, Text, Value, message

OBSERVED = message("holiday.observed", "{holiday} (observed)")
ENDING = " (observed)"


def _named(names: dict[str, str]) -> dict[str, Message]:
    return {name: message(f"holiday.{key}", name) for key, name in names.items()}


HOLIDAYS = _named(
    {
        "boxing": "Boxing Day",
        "british-columbia": "British Columbia Day",
        "canada": "Canada Day",
        "christmas": "Christmas Day",
        "christmas-eve": "Christmas Eve",
        "civic": "Civic Holiday",
        "columbus": "Columbus Day",
        "after-thanksgiving": "Day After Thanksgiving",
        "easter-monday": "Easter Monday",
        "election": "Election Day",
        "family": "Family Day",
        "friday-after-thanksgiving": "Friday After Thanksgiving",
        "good-friday": "Good Friday",
        "heritage": "Heritage Day",
        "independence": "Independence Day",
        "indigenous": "Indigenous Peoples' Day",
        "islander": "Islander Day",
        "juneteenth": "Juneteenth National Independence Day",
        "labor": "Labor Day",
        "lincoln": "Lincoln's Birthday",
        "louis-riel": "Louis Riel Day",
        "king": "Martin Luther King Jr. Day",
        "memorial": "Memorial Day",
        "aboriginal": "National Aboriginal Day",
        "truth": "National Day for Truth and Reconciliation",
        "patriots": "National Patriots' Day",
        "new-year": "New Year's Day",
        "new-year-eve": "New Year's Eve",
        "patriots-us": "Patriots' Day",
        "presidents": "Presidents' Day",
        "remembrance": "Remembrance Day",
        "saint-john": "Saint John the Baptist Day",
        "thanksgiving": "Thanksgiving Day",
        "veterans": "Veterans Day",
        "victoria": "Victoria Day",
        "washington": "Washington's Birthday",
    }
)
"""By the library's name."""


def holiday_name(name: str) -> Value:
    """A holiday by the library's name, as a message where it is known."""
    bare = name.removesuffix(ENDING)
    told: Text | str = bare
    if bare in HOLIDAYS:
        told = HOLIDAYS[bare]()
    if bare != name:
        return OBSERVED(holiday=told)
    return told
