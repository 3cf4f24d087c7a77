"""The reasons, a file each. A file placed here is found; nothing else lists it."""
