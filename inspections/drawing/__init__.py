"""The plan of a house as SVG: pure, a house and its findings in, a drawing out."""
