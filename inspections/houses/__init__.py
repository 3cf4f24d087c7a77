"""Houses as they come in, are tried and are amended."""
