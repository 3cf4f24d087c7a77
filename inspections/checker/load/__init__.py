"""House files: bytes in, a house or every fault at once out."""

from ..house import House
from .fault_messages import MORE
from .faults import HouseFault, HouseFaults
from .large import one_at_a_time
from .reading import read_json, text_faults
from .references import reference_faults
from .shape import shape_faults, validated

__all__ = ["HouseFault", "HouseFaults", "load_house"]

FAULTS_SHOWN = 1000


def load_house(raw: bytes) -> House:
    """The house that a house file holds.

    Raises HouseFaults with every fault of shape and of reference, in the order of the file's
    own parts, so that a person corrects them in one go.
    """
    with one_at_a_time(len(raw)):
        return _loaded(raw)


def _loaded(raw: bytes) -> House:
    """The same, of however large a file."""
    data = read_json(raw)
    if b"\\u" in raw and (no_text := list(text_faults(data))):
        raise _shown(no_text)
    house, errors = validated(data)
    faults = [*shape_faults(errors), *(reference_faults(data) if isinstance(data, dict) else ())]
    if faults or house is None:
        raise _shown(faults)
    return house


def _shown(faults: list[HouseFault]) -> HouseFaults:
    """The faults in the order of the file, as many as somebody would read."""
    faults.sort(key=lambda fault: fault.order)
    more = len(faults) - FAULTS_SHOWN
    shown = faults[:FAULTS_SHOWN]
    if more > 0:
        shown.append(HouseFault("", MORE(n=more)))
    return HouseFaults(tuple(shown))
