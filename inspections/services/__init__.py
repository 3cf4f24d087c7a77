"""The writes. Each is one use and one transaction; the acting person comes first."""
