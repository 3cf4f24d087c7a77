"""What an authority does and answers, in the words of its own forms. Pure.

The stored values are one set; a reader in the US and one in Canada know them by other words.
"""

from config.messages.message import Message, Text, message

CANADA = "CA"

HAPPENED: dict[str, Message] = {
    "booked": message("authority.booked", "Booked"),
    "moved": message("authority.rescheduled", "Rescheduled"),
    "cancelled": message("authority.cancelled", "Cancelled"),
    "no_access": message("authority.no-access", "The inspector could not get in"),
    "nobody_came": message("authority.nobody-came", "The inspector did not come"),
    "held": message("authority.held", "Held"),
}
"""What happened to an inspection, as it is chosen in a form."""

US_RESULTS: dict[str, Message] = {
    "accepted": message("authority.us.whole", "Approved"),
    "with_deficiencies": message("authority.us.part", "Partial"),
    "not_accepted": message("authority.us.none", "Correction notice"),
}
CANADIAN_RESULTS: dict[str, Message] = {
    "accepted": message("authority.ca.whole", "Accepted"),
    "with_deficiencies": message("authority.ca.part", "Deficiencies"),
    "not_accepted": message("authority.ca.none", "Defect notice"),
}

GROUNDS: dict[str, Message] = {
    "inspection": message("authority.by-result", "the inspector's result"),
    "waiver": message("authority.by-waiver", "the authority waived the inspection"),
    "elapsed": message(
        "authority.by-time", "nobody came in the time stated, and the licence holder declared it"
    ),
}
"""On what ground an area counts as accepted."""


def happening_shown(happening: str) -> Text:
    """What happened to an inspection."""
    return HAPPENED[happening]()


def result_shown(answer: str, country: str) -> Text:
    """The result of an inspection, as the authorities of that country call it."""
    if country == CANADA:
        return CANADIAN_RESULTS[answer]()
    return US_RESULTS[answer]()


def ground_shown(basis: str) -> Text:
    """On what ground an area was accepted."""
    return GROUNDS[basis]()
