"""Building models read into houses: IFC (ISO 16739) and DXF, in a process of their own."""

from .reading import ModelRead, ModelUnreadable, read_model, refuse_too_large

__all__ = ["ModelRead", "ModelUnreadable", "read_model", "refuse_too_large"]
