"""Facts that cannot both be true: each pair as a sentence that says what would be right. Pure.

An authority's word is its own: what it accepts although figures fail is recorded, and the figures
hold on. Refused is what contradicts itself, or what the same authority said before.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from inspections.standing.stages import Milestone


class Word(StrEnum):
    """What an inspector says of an area, or of a job as a whole."""

    ACCEPTED = "accepted"
    WITH_DEFICIENCIES = "with_deficiencies"
    NOT_ACCEPTED = "not_accepted"


@dataclass(frozen=True, slots=True)
class DeficiencyFacts:
    """A deficiency as it is written up, or as it stands on record."""

    place: str
    """The code of its area."""
    area: str
    """The area's name."""
    what: str
    where: str = ""
    due_on: date | None = None
    corrected: bool = False
    accepted: bool = False
    """At an earlier inspection."""

    @property
    def same(self) -> tuple[str, str, str]:
        """Equal for two that say the same of the same place, however they are typed."""
        return self.place, _plain(self.what), _plain(self.where)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split()).rstrip(".")


@dataclass(frozen=True, slots=True)
class Spoken:
    """One word of an inspector, and of which area; of the job as a whole without one."""

    word: Word
    place: str = ""
    area: str = ""


@dataclass(frozen=True, slots=True)
class AnswerGiven:
    """An inspector's answer to one inspection, and what stands open beside it."""

    words: Sequence[Spoken]
    written_up: Sequence[DeficiencyFacts] = ()
    lifted: Sequence[DeficiencyFacts] = ()
    still_open: Sequence[DeficiencyFacts] = ()
    """Written up earlier and accepted neither before nor now."""
    begun_on: date | None = None
    """The day of the inspection at the house."""
    ends_the_job: bool = False
    """Whether it is the final: nothing may be open after it is accepted."""


def of_answer(said: AnswerGiven) -> Iterator[str]:
    """What in an answer cannot be true together."""
    for spoken in said.words:
        yield from _of_word(said, spoken)
    yield from _of_lifted(said)
    for each in said.written_up:
        if each.due_on and said.begun_on and each.due_on < said.begun_on:
            yield (
                f"“{each.what}” is due by {each.due_on}, before the visit of {said.begun_on} "
                "that wrote it up. Give a later day."
            )


def _of_word(said: AnswerGiven, spoken: Spoken) -> Iterator[str]:
    word, place, area = spoken.word, spoken.place, spoken.area
    here = _at_place(said.written_up, place)
    left = _at_place(said.still_open, place)
    if word == Word.ACCEPTED and here:
        told = (
            "deficiencies are written up, so the answer cannot be “accepted”. Answer “accepted "
            "with deficiencies” or “not accepted”, or take out what is written up."
        )
        yield _of_area(area, told)
    elif word == Word.ACCEPTED and left and said.ends_the_job:
        yield (
            f"The final cannot be accepted while deficiencies are open: {_listed(left)}. "
            "Mark those that the inspector accepted, or give another answer."
        )
    elif word == Word.WITH_DEFICIENCIES and not (here or left):
        told = "say what the deficiencies are."
        yield _of_area(area, told)


def _at_place(told: Iterable[DeficiencyFacts], place: str) -> list[DeficiencyFacts]:
    """Those at a place; all of them when none is named."""
    if not place:
        return list(told)
    here: list[DeficiencyFacts] = []
    for each in told:
        if each.place == place:
            here.append(each)
    return here


def _of_area(area: str, told: str) -> str:
    if area:
        return f"{area}: {told}"
    return told[0].upper() + told[1:]


def _of_lifted(said: AnswerGiven) -> Iterator[str]:
    again = set()
    for each in said.written_up:
        again.add(each.same)
    for each in said.lifted:
        if each.accepted:
            yield f"“{each.what}” was accepted at an earlier visit already. Take the mark off it."
        elif not each.corrected:
            yield (
                f"“{each.what}” is not recorded as mended on this job. "
                "Record that it is mended, or take the mark off it."
            )
        elif each.same in again:
            yield (
                f"“{each.what}” is marked as accepted and written up again at the same visit. "
                "Take out one of the two."
            )


@dataclass(frozen=True, slots=True)
class Reached:
    """What is to be recorded done for a job, and what stands on record beside it."""

    milestone: Milestone
    on: date
    before: tuple[date, str] | None = None
    """The day and the reference of the same on record already."""
    temporary_until: date | None = None
    """By which the temporary service is to go."""
    temporary_stands: bool = False
    refused_on: date | None = None
    """The day of the latest inspection for it, when that ended in “not accepted”."""
    still_open: Sequence[DeficiencyFacts] = ()


def of_milestone(reached: Reached) -> Iterator[str]:
    """What contradicts a milestone that is to be recorded."""
    if reached.before is not None:
        day, reference = reached.before
        told = ""
        if reference:
            told = f", reference {reference}"
        yield f"“{reached.milestone}” is on record already, from {day}{told}."
        return
    if reached.temporary_until and reached.temporary_until < reached.on:
        yield (
            f"The temporary service cannot be due to go by {reached.temporary_until}, before the "
            f"hookup of {reached.on}. Give a later day."
        )
    if reached.refused_on is not None:
        yield (
            f"The inspector did not accept the {reached.milestone} at the visit of "
            f"{reached.refused_on}. Record the visit that accepted it first."
        )
    if reached.milestone is Milestone.FINAL:
        if reached.temporary_stands:
            yield "The temporary service is not recorded as removed."
        if reached.still_open:
            yield (
                "The final cannot be recorded while deficiencies are open: "
                f"{_listed(reached.still_open)}. Record first that the inspector accepted them."
            )


def _listed(left: Sequence[DeficiencyFacts], most: int = 300) -> str:
    deficiencies = []
    for each in left:
        deficiencies.append(f"{each.area}, {each.what}")
    named = "; ".join(deficiencies)
    if len(named) <= most:
        return named
    return f"{named[:most].rstrip()}…"
