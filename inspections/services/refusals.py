"""What a service does not do as things are."""

from config.languages import say
from config.messages.message import Text


class Refused(Exception):
    """Something that a service does not do as things are; `text` says why, and what to do."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(say(text, "en"))
