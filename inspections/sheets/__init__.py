"""Sheets of paper: ReportLab alone, no framework, no clock."""

from .checklist import Mark, checklist_pdf
from .day import day_pdf
from .frame import PAPERS, TitleBlock

__all__ = ["PAPERS", "Mark", "TitleBlock", "checklist_pdf", "day_pdf"]
