"""Compile the catalogues: `python -m config.languages`; `--check` only reads them.

1 when something is not said.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog, Message

from config.environment import ROOT
from config.languages.available import LANGUAGES
from config.languages.catalogue import FOLDER, compile_catalogue, read_catalogue
from config.languages.phrases import HOLE
from config.languages.sources import schema_words, script_words, template_words


def faults(path: Path, catalogue: Catalog) -> Iterator[str]:
    """What is missing or wrong in a catalogue."""
    for place, words, context in (*template_words(), *script_words(), *schema_words()):
        message = catalogue.get(words, context)
        if message is None or not message.string:
            yield f"{path}: {place.relative_to(ROOT)} says {words!r}; translate it"
    for message in catalogue:
        if message.id:
            yield from _holes(path, message, catalogue)


def _holes(path: Path, message: Message, catalogue: Catalog) -> Iterator[str]:
    """Where what is filled into a phrase is not the same in both languages."""
    if "%(" in str(message.id):  # a per cent sign alone is no place of Python's
        for error in message.check(catalogue):
            yield f"{path}: {message.id!r}: {error}"
    if not isinstance(message.id, str) or not isinstance(message.string, str):
        return
    if message.string and sorted(HOLE.findall(message.id)) != sorted(HOLE.findall(message.string)):
        yield f"{path}: {message.id!r}: the holes of both must be the same"


def main() -> int:
    """Compile each catalogue, and print what is missing in it."""
    check = "--check" in sys.argv
    found: list[str] = []
    for code in (code for code, _ in LANGUAGES if code != "en"):
        path = FOLDER / code / "LC_MESSAGES" / "django.po"
        catalogue = read_catalogue(path)
        found += faults(path.relative_to(ROOT), catalogue)
        if not check:
            compile_catalogue(path)
    print("\n".join(found) or "every language says everything")
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main())
