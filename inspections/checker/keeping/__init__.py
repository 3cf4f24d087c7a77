"""How findings are kept in rows, and the shape that they are published in."""
