"""Findings as text and as JSON: what `check_house` prints and others keep. Pure."""

from inspections.papers.report.as_json import finding_json, report_json
from inspections.papers.report.as_text import CAUTION, report_text

__all__ = ["CAUTION", "finding_json", "report_json", "report_text"]
