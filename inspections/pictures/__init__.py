"""Photographs written anew, in a process of their own with bounded memory."""
