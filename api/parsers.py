"""How bodies are read."""

import json
import re
from io import BytesIO
from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser

from api.refusal_messages import JSON_DEEP, JSON_HALF, JSON_LARGE
from config.languages import said_later

HALF = re.compile(rb"\\u[dD][89a-fA-F]")
"""Half of a character beyond the first 65,536, as JSON writes it. JSON lets it stand by itself;
no text that is answered or stored can hold it."""

MOST_VALUES = 100_000
"""Marks between values in a body: each costs some hundred bytes once it is read. A house of 118
boxes has 4,500 values, and the longest walk 500 ticks."""


class ShallowJSONParser(JSONParser):
    """JSON that is not nested beyond what a reader can follow, and whose texts are whole."""

    def parse(self, stream: Any, media_type: str | None = None, parser_context: Any = None) -> Any:
        """The value; 400 when it is no JSON, too deep, or holds half of a character."""
        content = stream.read()
        if sum(content.count(mark) for mark in (b",", b"[", b"{")) > MOST_VALUES:
            raise ParseError(said_later(JSON_LARGE(most=MOST_VALUES)))
        try:
            value = super().parse(BytesIO(content), media_type, parser_context)
        except RecursionError:
            raise ParseError(said_later(JSON_DEEP())) from None
        if HALF.search(content):
            _refuse_halves(value)
        return value


def _refuse_halves(value: Any) -> None:
    try:
        json.dumps(value, ensure_ascii=False).encode()
    except UnicodeEncodeError as fault:
        half = fault.object[fault.start]
        raise ParseError(said_later(JSON_HALF(half=f"\\u{ord(half):04x}"))) from None
