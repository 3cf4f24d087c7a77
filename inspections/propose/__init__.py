"""Proposals: what would finish a house, computed, with the proof that nothing smaller does."""
