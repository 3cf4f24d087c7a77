"""Sheets of paper: ReportLab alone, no framework, no clock."""

from inspections.papers.sheets.bundle import bundle_pdf
from inspections.papers.sheets.checklist import Mark, checklist_pdf
from inspections.papers.sheets.day import day_pdf
from inspections.papers.sheets.frame import PAPERS, TitleBlock
from inspections.papers.sheets.placard import placard_pdf

__all__ = ["PAPERS", "Mark", "TitleBlock", "bundle_pdf", "checklist_pdf", "day_pdf", "placard_pdf"]
