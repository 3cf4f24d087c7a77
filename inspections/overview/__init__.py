"""Reads over jobs and areas that faces show."""
