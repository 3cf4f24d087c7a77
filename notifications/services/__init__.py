"""Writes of notices: one function a use."""
