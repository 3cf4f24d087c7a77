"""The plan of a house as SVG: pure, a house and its findings in, a drawing out."""

from .plan import plan_svg, storeys_drawn

__all__ = ["plan_svg", "storeys_drawn"]
