"""Facts that cannot both be true: each pair as a sentence that says what would be right. Pure.

An authority's word is its own: what it accepts although figures fail is recorded, and the figures
hold on. Refused is what contradicts itself, or what the same authority said before.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from config.messages.message import Joined, Text, Value
from inspections.standing import contradiction_messages as words
from inspections.standing.inspection_messages import milestone_name
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


def of_answer(said: AnswerGiven) -> Iterator[Text]:
    """What in an answer cannot be true together."""
    for spoken in said.words:
        yield from _of_word(said, spoken)
    yield from _of_lifted(said)
    for each in said.written_up:
        if each.due_on and said.begun_on and each.due_on < said.begun_on:
            yield words.DUE_BEFORE(what=each.what, due=each.due_on, day=said.begun_on)


def _of_word(said: AnswerGiven, spoken: Spoken) -> Iterator[Text]:
    word, place, area = spoken.word, spoken.place, spoken.area
    here = _at_place(said.written_up, place)
    left = _at_place(said.still_open, place)
    if word == Word.ACCEPTED and here:
        if area:
            yield words.NOT_ACCEPTED_IN(area=area)
        else:
            yield words.NOT_ACCEPTED_ALONE()
    elif word == Word.ACCEPTED and left and said.ends_the_job:
        yield words.FINAL_ACCEPTED(deficiencies=_listed(left))
    elif word == Word.WITH_DEFICIENCIES and not (here or left):
        if area:
            yield words.SAY_WHICH_IN(area=area)
        else:
            yield words.SAY_WHICH()


def _at_place(told: Iterable[DeficiencyFacts], place: str) -> list[DeficiencyFacts]:
    """Those at a place; all of them when none is named."""
    if not place:
        return list(told)
    here: list[DeficiencyFacts] = []
    for each in told:
        if each.place == place:
            here.append(each)
    return here


def _of_lifted(said: AnswerGiven) -> Iterator[Text]:
    again = set()
    for each in said.written_up:
        again.add(each.same)
    for each in said.lifted:
        if each.accepted:
            yield words.ACCEPTED_BEFORE(what=each.what)
        elif not each.corrected:
            yield words.NOT_CORRECTED(what=each.what)
        elif each.same in again:
            yield words.WRITTEN_UP_AGAIN(what=each.what)


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


def of_milestone(reached: Reached) -> Iterator[Text]:
    """What contradicts a milestone that is to be recorded."""
    named = milestone_name(reached.milestone)
    if reached.before is not None:
        day, reference = reached.before
        if reference:
            yield words.ON_RECORD_AS(milestone=named, day=day, reference=reference)
        else:
            yield words.ON_RECORD(milestone=named, day=day)
        return
    if reached.temporary_until and reached.temporary_until < reached.on:
        yield words.TEMPORARY_BEFORE(until=reached.temporary_until, day=reached.on)
    if reached.refused_on is not None:
        yield words.REFUSED[reached.milestone](day=reached.refused_on)
    if reached.milestone is Milestone.FINAL:
        if reached.temporary_stands:
            yield words.TEMPORARY_STANDS()
        if reached.still_open:
            yield words.FINAL_RECORDED(deficiencies=_listed(reached.still_open))


def _listed(left: Sequence[DeficiencyFacts], most: int = 300) -> Value:
    """As many as fit in a sentence, and how many there are besides."""
    named: list[Value] = []
    length = 0
    for each in left:
        length += len(each.area) + len(each.what) + len(", ; ")
        if named and length > most:
            named.append(words.MORE(n=len(left) - len(named)))
            break
        named.append(words.DEFICIENCY(area=each.area, what=each.what))
    return Joined(tuple(named), "; ")
