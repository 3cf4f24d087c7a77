"""Drills: the real stack under load, its parts killed at random, its books audited afterwards."""
