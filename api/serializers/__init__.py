"""Shapes of what the API gives and takes. Words are those of the pages."""
