"""Building models read into houses: IFC (ISO 16739) and DXF, in a process of their own."""

from .reading import CannotRead, ModelRead, read_model, refuse_too_large

__all__ = ["CannotRead", "ModelRead", "read_model", "refuse_too_large"]
