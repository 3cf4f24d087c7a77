"""The checker: a house goes in as a value, findings come out. It knows no framework."""
