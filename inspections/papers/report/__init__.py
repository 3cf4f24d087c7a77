"""Findings as text and as JSON: what `check_house` prints and others keep. Pure."""
