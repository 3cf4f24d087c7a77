"""Lines and distances of a house: floor lines, stretches, plans and hallways."""
