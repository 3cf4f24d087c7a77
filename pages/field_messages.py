"""What fields of several forms say."""

from config.messages.message import message

NUMBERS_OF_DAYS = message("field.numbers-of-days", "Write numbers of days, such as 30, 14, 7.")
NO_DATE = message("field.no-date", "“{line}” does not begin with a date such as 2026-12-24.")
