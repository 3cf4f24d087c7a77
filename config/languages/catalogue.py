"""Catalogues of gettext: read for phrases, and compiled from what translators write."""

from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import read_mo, write_mo
from babel.messages.pofile import read_po


def read_phrases(path: Path) -> dict[str, str]:
    """Every phrase of a compiled catalogue by its English; plurals are for templates alone."""
    with path.open("rb") as file:
        catalogue = read_mo(file)
    by_id: dict[str, str] = {}
    for message in catalogue:
        if isinstance(message.id, str) and message.id and message.string and not message.context:
            by_id[message.id] = message.string
    return by_id


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
    """Write the compiled catalogue beside the one that a translator wrote."""
    compiled = path.with_suffix(".mo")
    compiled.write_bytes(written(read_catalogue(path)))
    return compiled
