"""Sentences read back: English that the program made, matched to phrases and said otherwise.

Rules, holds and services speak one language, so that what they say can be stored, compared and
tested. A phrase is one of their sentences with holes, `The box holds {has}.`; a sentence is said
in another language by finding the phrase it was made from and saying what filled its holes. So
what was recorded in English long ago is read in the reader's language today. Pure.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from .measures import Manner, day, localized_measure

HOLE = re.compile(r"\{(\w+)\}")
VERBATIM = re.compile(
    r"(name(?!s)|job|shop|address|note|reference|person|section|edition|url|id|code)\d*(_.*)?"
)
"""Holes filled with what a person typed, or with a number that is none: never translated."""
LISTED = re.compile(r"names\d*")
AND = re.compile(" and (?!.* and )")
"""Holes filled with a list of such: the last word between them alone is said."""
COUNTED = re.compile(r"(n|count)\d*")
"""Holes that only a number fills."""
KEYED = re.compile(r"(id|code)\d*(_.*)?")
"""Holes that only something without a space fills."""
SEPARATORS = ("\n", "; ", " · ", ": ", ". ", ", ", " × ", " = ", " + ", " / ", " - ")
"""What parts of a sentence are joined by, the strongest first."""
WORD = re.compile(r"[^\W\d_]{2,}")
KEY = 4  # letters by which phrases are found before they are tried


@dataclass(frozen=True, slots=True)
class Translation:
    """What came of a sentence, and the parts of it that no phrase was found for."""

    text: str
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Pattern:
    shape: re.Pattern[str]
    holes: tuple[str, ...]
    literal: str
    weight: int
    said: str


class Phrases:
    """The phrases of one language, from English to that language."""

    def __init__(self, phrases: Mapping[str, str], manner: Manner, joiners: Mapping[str, str]):
        self.manner, self.joiners = manner, joiners
        self.exact = {english: said for english, said in phrases.items() if said}
        self.begun: dict[str, list[_Pattern]] = {}
        patterns = []
        for e, said in self.exact.items():
            # One of holes alone fits any sentence, and would be filled with it without end.
            if HOLE.search(e) and HOLE.sub("", e).strip():
                patterns.append(_pattern(e, said))
        for english, pattern in sorted(patterns, key=lambda each: -each[1].weight):
            begin = HOLE.split(english)[0]
            self.begun.setdefault(begin[:KEY] if len(begin) >= KEY else "", []).append(pattern)
        self.said = lru_cache(maxsize=20_000)(self._said)

    def say(self, text: str) -> str:
        """The sentence in this language; what no phrase is known for stays as it was."""
        return self.said(text).text

    def _said(self, text: str) -> Translation:
        bare = text.strip()
        if not bare:
            return Translation(text)
        if bare != text:
            inner = self.said(bare)
            at = text.index(bare)
            return Translation(text[:at] + inner.text + text[at + len(bare) :], inner.unknown)
        return self._whole(text) or self._parted(text) or Translation(text, _unknown(text))

    def _whole(self, text: str) -> Translation | None:
        if text in self.exact and not HOLE.search(text):
            return Translation(self.exact[text])
        number = localized_measure(text, self.manner) or day(text, self.manner)
        if number is not None:
            return Translation(number)
        best = self._best_pattern(text)
        if best is None or not best.unknown:
            return best
        parted = self._parted(text)
        if parted and _less(parted, best):
            return parted
        return best

    def _best_pattern(self, text: str) -> Translation | None:
        """The first phrase that says all of the text, else the one that leaves the least unsaid."""
        best = None
        for pattern in self._tried(text):
            match = pattern.literal in text and pattern.shape.fullmatch(text)
            if not match:
                continue
            filled = self._filled(pattern, match)
            if not filled.unknown:
                return filled
            if best is None or len(filled.unknown) < len(best.unknown):
                best = filled
        return best

    def _tried(self, text: str) -> Iterator[_Pattern]:
        yield from self.begun.get(text[:KEY], ())
        yield from self.begun.get("", ())

    def _filled(self, pattern: _Pattern, found: re.Match[str]) -> Translation:
        given: dict[str, str] = {}
        unknown: list[str] = []
        for hole, part in zip(pattern.holes, found.groups(), strict=True):
            if VERBATIM.fullmatch(hole):
                given[hole] = part
            elif LISTED.fullmatch(hole):
                given[hole] = AND.sub(self.joiners.get(" and ", " and "), part)
            else:
                said = self._hole(part)
                given[hole] = said.text
                unknown += said.unknown
        return Translation(HOLE.sub(lambda hole: given[hole[1]], pattern.said), tuple(unknown))

    def _hole(self, part: str) -> Translation:
        """What fills a hole; one capitalised word alone is a name."""
        if part.isalpha() and part[0].isupper():
            return Translation(day(part, self.manner) or part)
        return self.said(part)

    def _parted(self, text: str) -> Translation | None:
        """A list or a line of parts, each said by itself."""
        for between in (*SEPARATORS, *self.joiners):
            if between in text:
                return self._joined(text, between)
        return None

    def _joined(self, text: str, between: str) -> Translation | None:
        """The parts of a text; None where it holds nothing that is known."""
        # What comes after a colon is a sentence of its own, colons and all.
        texts: list[str] = []
        unknown: list[str] = []
        strange: list[bool] = []
        for given in text.split(between, 1 if between == ": " else -1):
            part = self._hole(given)
            texts.append(part.text)
            unknown += part.unknown
            strange.append(part.text == given and bool(part.unknown))
        # What holds nothing of ours was typed; so was "and" beside something typed.
        if all(strange) or (between not in SEPARATORS and any(strange)):
            return None
        return Translation(self.joiners.get(between, between).join(texts), tuple(unknown))


def _less(one: Translation, other: Translation) -> bool:
    return sum(map(len, one.unknown)) < sum(map(len, other.unknown))


def _unknown(text: str) -> tuple[str, ...]:
    if WORD.search(text):
        return (text,)
    return ()


def _filler(hole: str) -> str:
    if COUNTED.fullmatch(hole):
        return r"(\d[\d.,]*)"
    if KEYED.fullmatch(hole):
        return r"(\S+?)"
    return "(.+?)"


def _pattern(english: str, said: str) -> tuple[str, _Pattern]:
    pieces = HOLE.split(english)
    literals, holes = pieces[::2], tuple(pieces[1::2])
    expressions = []
    for n, part in enumerate(_filler(p) if n % 2 else p for n, p in enumerate(pieces)):
        expressions.append(part if n % 2 else re.escape(part))
    shape = "".join(expressions)
    longest = max(literals, key=len)
    weight = sum(map(len, literals))
    return english, _Pattern(re.compile(shape, re.DOTALL), holes, longest, weight, said)
