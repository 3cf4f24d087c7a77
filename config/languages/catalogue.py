"""Catalogues of gettext: read for phrases, and compiled from what translators write.

What is compiled is never kept with the source. Reading the settings compiles it, so that whoever
starts anything from a fresh checkout has every language, and an edited catalogue is read at once.
"""

import os
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import PoFileError, read_po
from django.core.exceptions import ImproperlyConfigured

from config.atomic_files import whole_file

FOLDER = Path(__file__).parent.parent / "locale"
"""A folder for each language, as gettext wants them."""


def read_phrases(path: Path) -> dict[str, str]:
    """Every phrase of a compiled catalogue by its English; plurals are for templates alone.

    What a message without holes says in its own context stands in where no phrase without one is
    the same.
    """
    with path.open("rb") as file:
        catalogue = read_mo(file)
    by_id: dict[str, str] = {}
    in_context: dict[str, str] = {}
    for message in catalogue:
        if not isinstance(message.id, str) or not isinstance(message.string, str):
            continue
        if message.id and message.string and not message.context:
            by_id[message.id] = message.string
        elif message.id and message.string and "{" not in message.id:
            in_context[message.id] = message.string
    return in_context | by_id


def read_catalogue(path: Path) -> Catalog:
    """A catalogue as a translator writes it."""
    with path.open("rb") as file:
        return read_po(file, abort_invalid=True)


def written(catalogue: Catalog) -> bytes:
    """The catalogue as gettext reads it; the same catalogue gives the same bytes."""
    file = BytesIO()
    write_mo(file, catalogue)
    return file.getvalue()


def compile_catalogue(path: Path) -> Path:
    """Write the compiled catalogue beside the one that a translator wrote, whole or not at all."""
    compiled, readable = path.with_suffix(".mo"), path.stat().st_mode
    content = written(read_catalogue(path))
    with whole_file(compiled) as file:
        file.write(content)
        # Who may read what was written may read what was made of it: an image is built by root.
        os.fchmod(file.fileno(), readable & 0o777)
    return compiled


def build_catalogues(folder: Path = FOLDER) -> list[Path]:
    """Compile what was never compiled or was changed since; which that was.

    Several processes may do it at once: each puts the same whole file in place.
    Raises ImproperlyConfigured, since a site without would speak English to everybody.
    """
    built = []
    for path in sorted(folder.glob("*/LC_MESSAGES/django.po")):
        if not _stale(path):
            continue
        try:
            built.append(compile_catalogue(path))
        except PoFileError as fault:
            raise ImproperlyConfigured(f"{path} is no catalogue of gettext: {fault}") from fault
        except OSError as fault:
            raise ImproperlyConfigured(
                f"{path} is not compiled, and {path.parent} cannot be written to "
                f"({fault.strerror}). Run `python -m config.languages` in the program's folder "
                "as its owner, then start again."
            ) from fault
    return built


def _stale(path: Path) -> bool:
    compiled = path.with_suffix(".mo")
    if not compiled.exists():
        return True
    return compiled.stat().st_mtime_ns < path.stat().st_mtime_ns
