"""PURE: what can be corrected in a house where one stands, and the change of its file."""
