"""Compile the catalogues: `python -m config.languages`; `--check` only reads them.

1 when something is not said. A message that is not translated yet is read in English meanwhile and
listed; it is 1 with `--release` alone, so that nobody needs three languages to correct a rule.
"""

import sys
from collections.abc import Iterator
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.catalog import Message as Phrase

from config.environment import ROOT
from config.languages.available import LANGUAGES
from config.languages.catalogue import FOLDER, compile_catalogue, read_catalogue
from config.languages.phrases import HOLE
from config.languages.sources import program_messages, schema_words, script_words, template_words
from config.languages.unsaid import unsaid


def faults(path: Path, catalogue: Catalog) -> Iterator[str]:
    """What is missing or wrong in a catalogue."""
    for place, words, context in (*template_words(), *script_words(), *schema_words()):
        message = catalogue.get(words, context)
        if message is None or not message.string:
            yield f"{path}: {place.relative_to(ROOT)} says {words!r}; translate it"
    for english in unsaid(catalogue):
        yield f"{path}: nothing says {english!r} any more; delete it"
    for message in catalogue:
        if message.id:
            yield from _holes(path, message, catalogue)


def untranslated(path: Path, catalogue: Catalog) -> Iterator[str]:
    """Messages that are read in English in this language."""
    for each in program_messages():
        found = catalogue.get(each.one or each.text, each.id)
        if found is None or not found.string or not all(found.string):
            yield f"{path}: {each.id} is not translated: {each.text!r}"


def _holes(path: Path, message: Phrase, catalogue: Catalog) -> Iterator[str]:
    """Where what is filled into a phrase is not the same in both languages."""
    if "%(" in str(message.id):  # a per cent sign alone is no place of Python's
        for error in message.check(catalogue):
            yield f"{path}: {message.id!r}: {error}"
    if isinstance(message.id, str):
        english, said = (message.id,), (message.string,)
    else:
        english, said = tuple(message.id), tuple(message.string or ())
    holes = set(HOLE.findall(" ".join(english)))
    for each in said:
        if each and not set(HOLE.findall(str(each))) <= holes:
            yield f"{path}: {message.id!r}: the holes of both must be the same"
    for each in said[:1]:
        lacking = isinstance(message.string, str) and set(HOLE.findall(str(each))) != holes
        if each and lacking:
            yield f"{path}: {message.id!r}: the holes of both must be the same"


def main() -> int:
    """Compile each catalogue, and print what is missing in it."""
    check = "--check" in sys.argv
    found: list[str] = []
    later: list[str] = []
    for code in (code for code, _ in LANGUAGES if code != "en"):
        path = FOLDER / code / "LC_MESSAGES" / "django.po"
        catalogue = read_catalogue(path)
        found += faults(path.relative_to(ROOT), catalogue)
        later += untranslated(path.relative_to(ROOT), catalogue)
        if not check:
            compile_catalogue(path)
    print("\n".join(found + later) or "every language says everything")
    return int(bool(found or (later and "--release" in sys.argv)))


if __name__ == "__main__":
    sys.exit(main())
