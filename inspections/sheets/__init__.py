"""Sheets of paper: ReportLab alone, no framework, no clock."""

from .bundle import bundle_pdf
from .checklist import Mark, checklist_pdf
from .day import day_pdf
from .frame import PAPERS, TitleBlock
from .placard import placard_pdf

__all__ = ["PAPERS", "Mark", "TitleBlock", "bundle_pdf", "checklist_pdf", "day_pdf", "placard_pdf"]
