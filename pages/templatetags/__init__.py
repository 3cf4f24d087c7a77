"""Filters of the pages' templates."""
