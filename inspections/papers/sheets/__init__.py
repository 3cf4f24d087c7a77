"""Sheets of paper: ReportLab alone, no framework, no clock."""
