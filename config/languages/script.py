"""The words that a page's scripts say, in the reader's language, for the page to carry."""

from functools import cache

from django.utils.translation import get_language, override, pgettext

from config.languages import phrases
from config.languages.available import TRANSLATED
from config.languages.sources import HOUSE, schema_words, script_words

DRAW = "draw"
"""The folder of the drawing board, which names every part of a house besides."""


def words_of_scripts(folder: str) -> dict[str, str]:
    """English to the language of the reader for the scripts of a folder; none for English."""
    chosen = (get_language() or "en").split("-")[0]
    if chosen in TRANSLATED:
        return _words(chosen, folder)
    return {}


@cache
def _words(language: str, folder: str) -> dict[str, str]:
    known = phrases(language).exact
    said = {}
    for path, e, _ in script_words():
        if path.parent.name == folder and e in known:
            said[e] = known[e]
    if folder != DRAW:
        return said
    with override(language):
        named = {}
        for _, english, _ in schema_words():
            named[english] = pgettext(HOUSE, english)
    by_english = {}
    for english, each in named.items():
        if each != english:
            by_english[english] = each
    return said | by_english
