"""Where on site something is, in words and in the order of walking."""

from dataclasses import dataclass

from .words import length

Place = str | tuple[str, float]
"""A part of a place's words: a word or two, or words and the length in mm before them."""


@dataclass(frozen=True, slots=True)
class Spot:
    """Where on site: the area and room, parts of the words, and the order of walking."""

    area: str
    room: str
    parts: tuple[Place, ...]
    order: tuple[float, ...] = ()
    imperial: bool = False

    @property
    def words(self) -> str:
        """The place as a person on site would say it, from the storey inwards."""
        words = []
        for part in self.parts:
            words.append(
                part if isinstance(part, str) else f"{length(part[1], self.imperial)} {part[0]}"
            )
        return ", ".join(words)
