"""A photograph handed to a process that opens it, and what that says of it."""

import json
from tempfile import TemporaryFile
from typing import IO, BinaryIO

from config.child_process import CameToNothing, ask_apart
from config.messages.message import Text
from config.messages.saying import said
from inspections.pictures import picture_messages as words

MOST_PIXELS = 50_000_000
"""What phones make at most by default, 48 million, and some."""
SECONDS = 20


class PictureUnreadable(Exception):
    """A file that is no photograph; `text` names fault and remedy."""

    def __init__(self, text: Text) -> None:
        self.text = text
        super().__init__(said(text))


def written_anew(sent: IO[bytes], *, keep_location: bool) -> tuple[bytes, str]:
    """The picture alone, upright, as a file of its own kind, and its suffix.

    Raises PictureUnreadable.
    """
    with _with_number(sent) as given:
        try:
            told = ask_apart(
                "inspections.pictures.child",
                str(MOST_PIXELS),
                "keep" if keep_location else "drop",
                seconds=SECONDS,
                sent=given,
            )
        except CameToNothing:
            raise PictureUnreadable(words.UNREADABLE()) from None
    head, _, content = told.partition(b"\n")
    try:
        answer = json.loads(head)
    except ValueError:  # it could say nothing more: out of memory
        raise PictureUnreadable(words.UNREADABLE()) from None
    if "pixels" in answer:
        raise PictureUnreadable(words.TOO_MANY_PIXELS(most=MOST_PIXELS // 1_000_000))
    if "suffix" not in answer:
        raise PictureUnreadable(words.UNREADABLE())
    return content, answer["suffix"]


def _with_number(sent: IO[bytes]) -> BinaryIO:
    """A file that a process can be given, with the same content, from its beginning."""
    made: BinaryIO = TemporaryFile()  # noqa: SIM115 closed by whoever asked
    sent.seek(0)
    while piece := sent.read(1 << 20):
        made.write(piece)
    made.seek(0)
    return made
