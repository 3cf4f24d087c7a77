"""A button that needs a script is disabled until the script listens."""

import re
from pathlib import Path

import pytest

TEMPLATES = sorted((Path(__file__).parents[2] / "templates").rglob("*.html"))
BUTTON = re.compile(r"<button\b[^>]*?\btype=\"button\"[^>]*")


def pressed_in_vain(text: str) -> list[str]:
    """Buttons that can be pressed before their script listens, so that the press is lost."""
    return [tag for tag in BUTTON.findall(text) if not re.search(r"\s(disabled|hidden)\b", tag)]


@pytest.mark.parametrize(
    "button", ['<button type="button" id="all">', '<button id="x" type="button">']
)
def test_a_button_that_does_not_wait_is_found(button) -> None:
    assert pressed_in_vain(button)


def test_no_button_can_be_pressed_in_vain() -> None:
    found = {path.name: pressed_in_vain(path.read_text()) for path in TEMPLATES}
    assert sum(bool(BUTTON.search(path.read_text())) for path in TEMPLATES) > 5
    assert not {name: tags for name, tags in found.items() if tags}
