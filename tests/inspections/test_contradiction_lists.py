"""What is still open is listed as far as it fits in a sentence, and no sentence says too much."""

from collections.abc import Sequence
from datetime import date

import pytest

from config.languages import say
from inspections.standing.contradictions import DeficiencyFacts, Reached, of_milestone
from inspections.standing.stages import Milestone

MARCH, APRIL = date(2026, 3, 1), date(2026, 4, 1)


def open_of(*lengths: int) -> list[DeficiencyFacts]:
    """Deficiencies in the garage of which each takes so much of a sentence."""
    found = []
    for at, length in enumerate(lengths):
        what = f"{at:x}" * (length - len("Garage") - len(", ; "))
        found.append(DeficiencyFacts("garage", "Garage", what))
    return found


def listed(left: Sequence[DeficiencyFacts]) -> list[str]:
    """What the refusal of a final lists of them."""
    (text,) = of_milestone(Reached(Milestone.FINAL, APRIL, still_open=left))
    sentence = say(text, "en")
    return sentence.partition("are open: ")[2].partition(". First record")[0].split("; ")


@pytest.mark.parametrize(
    ("lengths", "named", "more"),
    [
        ([100], 1, ""),
        ([100, 100, 100], 3, ""),
        ([100, 100, 101], 2, "1 more"),
        ([100, 100, 100, 20], 3, "1 more"),
        ([150, 100, 100, 100, 20], 2, "3 more"),
        ([400], 1, ""),
        ([400, 20, 20], 1, "2 more"),
        ([20, 400], 1, "1 more"),
    ],
)
def test_as_many_as_fit_are_named_and_the_rest_counted(lengths, named, more) -> None:
    left = open_of(*lengths)
    words = listed(left)
    assert words[:named] == [f"Garage, {each.what}" for each in left[:named]]
    assert words[named:] == ([more] if more else [])


def says(reached: Reached) -> list[str]:
    return [say(each, "en") for each in of_milestone(reached)]


def test_a_milestone_on_record_is_refused_for_that_alone() -> None:
    still_open = open_of(30)
    on_record = Reached(Milestone.FINAL, APRIL, (MARCH, "C1"), still_open=still_open)
    (said,) = says(on_record)
    assert said.endswith("already recorded for Mar 1, 2026, reference C1.")
    (said,) = says(Reached(Milestone.FINAL, APRIL, (MARCH, "")))
    assert said.endswith("already recorded for Mar 1, 2026.")


def test_a_temporary_service_goes_on_the_day_of_the_hookup_or_later() -> None:
    assert says(Reached(Milestone.HOOKUP, APRIL, temporary_until=APRIL)) == []
    (said,) = says(Reached(Milestone.HOOKUP, APRIL, temporary_until=MARCH))
    assert "due for removal by Mar 1, 2026" in said


def test_only_the_final_waits_for_what_is_left_over() -> None:
    left = open_of(30)
    hookup = Reached(Milestone.HOOKUP, APRIL, temporary_stands=True, still_open=left)
    assert says(hookup) == []
    final = Reached(Milestone.FINAL, APRIL, temporary_stands=True, still_open=left)
    stands, refused = says(final)
    assert "removal of the temporary service" in stands
    assert "while deficiencies are open" in refused
    (said,) = says(Reached(Milestone.FINAL, APRIL, refused_on=MARCH))
    assert "did not accept the final on Mar 1, 2026" in said
