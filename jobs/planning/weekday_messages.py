"""Weekdays by their names."""

from config.messages.message import Text, message

WEEKDAY_NAMES = (
    message("weekday.monday", "Monday"),
    message("weekday.tuesday", "Tuesday"),
    message("weekday.wednesday", "Wednesday"),
    message("weekday.thursday", "Thursday"),
    message("weekday.friday", "Friday"),
    message("weekday.saturday", "Saturday"),
    message("weekday.sunday", "Sunday"),
)


def weekday(number: int) -> Text:
    """A weekday by its number from Monday, 0."""
    return WEEKDAY_NAMES[number]()
