"""What notices, messages and their faults say, by what it is about. Pure: no rows are read here."""
