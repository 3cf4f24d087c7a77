"""The catalogue of one language for whole sentences: names of choices, rules and headings. Pure.

What holds a figure or a name is a message and is said by its id (`config.messages`): a sentence is
never taken apart to find which phrase it was made from, so that what a person typed stays as typed.
"""

import re
from collections.abc import Mapping

HOLE = re.compile(r"\{(\w+)\}")
"""Where something is filled into a phrase."""


class Phrases:
    """The phrases of one language, from English to that language."""

    def __init__(self, phrases: Mapping[str, str]) -> None:
        self.exact = {english: said for english, said in phrases.items() if said}

    def say(self, text: str) -> str:
        """The phrase in this language; what is none stays as it is."""
        bare = text.strip()
        if bare not in self.exact:
            return text
        return text.replace(bare, self.exact[bare])
