"""What rules share: parts of a house that several of them ask of."""
