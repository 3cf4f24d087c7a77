"""Writes to shops, people and jobs. Each is one use, one transaction, the actor first."""
