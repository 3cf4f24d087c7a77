"""How bodies are read."""

from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser


class ShallowJSONParser(JSONParser):
    """JSON that is not nested beyond what a reader can follow."""

    def parse(self, stream: Any, media_type: str | None = None, parser_context: Any = None) -> Any:
        """The value; 400 when it is no JSON, or too deep."""
        try:
            return super().parse(stream, media_type, parser_context)
        except RecursionError:
            raise ParseError("The JSON is nested too deeply.") from None
