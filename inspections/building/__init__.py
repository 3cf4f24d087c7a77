"""Building models read into houses: IFC (ISO 16739) and DXF, in a process of their own."""

from .reading import CannotRead, ModelRead, read_model

__all__ = ["CannotRead", "ModelRead", "read_model"]
