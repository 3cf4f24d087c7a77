"""How fast the checker is against bare loops: `make bench`."""
