"""Random sequences of calls on every face, with whatever a stranger, a phone or a slip may send."""
