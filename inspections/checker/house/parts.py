"""What every part of a house file shares: strictness, identities and measures.

Inside the checker lengths are millimetres, volumes millilitres, currents amperes and
loads volt-amperes. What a person typed stays at the edges.
"""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Id = Annotated[
    str,
    StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,39}$"),
    Field(description="A short name, unique among its kind: letters, digits, . _ / -"),
]
Name = Annotated[str, StringConstraints(min_length=1, max_length=120)]
Text = Annotated[str, StringConstraints(max_length=500)]

Length = Annotated[float, Field(gt=0, le=1_000_000)]  # mm, more than nothing
Offset = Annotated[float, Field(ge=0, le=1_000_000)]  # mm, may be nothing
Position = Annotated[float, Field(ge=-1_000_000, le=1_000_000)]  # mm on the plan
Volume = Annotated[float, Field(gt=0, le=100_000)]  # mL
Weight = Annotated[float, Field(gt=0, le=10_000)]  # kg
Amperes = Annotated[float, Field(gt=0, le=10_000)]
Count = Annotated[int, Field(ge=0, le=1_000)]

Gauge = Literal[
    "24", "23", "22", "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1",
    "1/0", "2/0", "3/0", "4/0", "250", "300", "350", "400", "500",
]  # fmt: skip
"""AWG size, or kcmil from 250 up."""


class Part(BaseModel):
    """A value in a house file: frozen, strict about types, closed to unknown keys."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        str_strip_whitespace=True,
        use_attribute_docstrings=True,
    )
