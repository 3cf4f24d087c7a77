"""Proposals: nothing short afterwards, and nothing smaller found by a model written apart."""
