"""Every fact that can be corrected has a name and its values are said as a tape shows them."""

import pytest

from config.languages import say
from inspections.fixes.fact_words import fact_key, fact_name, may_be_corrected, value_words
from inspections.fixes.fixes import fixes_of

from . import planted


def test_every_fix_of_the_planted_house_is_named_and_may_be_corrected() -> None:
    for finding in planted.failing():
        for fix in fixes_of(planted.facts(), finding):
            assert may_be_corrected(fix.path), fix.path
            name = say(fact_name(fix.path), "en")
            assert "{" not in name
            assert str(value_words(fix.path, fix.now)) != ""


@pytest.mark.parametrize(
    ("path", "key", "name"),
    [
        (("boxes", "R16", "volume_ml"), "boxes.volume_ml", "Volume of box R16"),
        (
            ("cables", "C35", "first_supports_mm", 1),
            "cables.first_supports_mm",
            "Distance to the first support of cable C35",
        ),
        (
            ("separations", "D1 C24 living", "distance_mm"),
            "separations.distance_mm",
            "Distance between cables D1 and C24",
        ),
        (("device_depth_mm", "switch"), "device_depth_mm", "Depth of the switch you use"),
        (
            ("boxes", "L8", "devices", 0, "recessed", "plate"),
            "recessed.plate",
            "Location plate on light L8",
        ),
    ],
)
def test_a_fact_is_called_by_what_a_person_measures(path, key, name) -> None:
    assert fact_key(path) == key
    assert say(fact_name(path), "en") == name


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        (("boxes", "R16", "volume_ml"), None, "not recorded"),
        (("boxes", "R57"), None, "none"),
        (("boxes", "R36", "boot"), True, "yes"),
        (("cables", "C35", "first_supports_mm", 1), 304.8, "1 ft"),
        (("circuits", "lit5", "breaker_a"), 15.0, "15 A"),
        (("cables", "C2", "bonding_awg"), "12", "12 AWG"),
        (("circuits", "hub", "protection"), "dual", "AFCI/GFCI"),
        (("boxes", "L4", "devices", 0, "mounting"), "pendant", "pendant"),
        (("separations", "D4 C34 bed1", "crossing_deg"), 20.0, "20°"),
        (("boxes", "R16", "volume_ml"), "big", "big"),
    ],
)
def test_a_value_is_said_as_it_is_read(path, value, said) -> None:
    assert say(value_words(path, value), "en") == said


@pytest.mark.parametrize(
    "path", [(), ("boxes",), (0, 1), ("rooms", "living", "name"), ("device_depth_mm", "sofa")]
)
def test_what_is_no_such_fact_is_not_corrected(path) -> None:
    assert not may_be_corrected(path)
