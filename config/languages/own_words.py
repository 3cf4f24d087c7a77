"""What somebody typed, so that it is said as it is."""


class Typed(str):
    """A name, a note or a reference: in no language is it anything else than what was typed."""

    __slots__ = ()
