"""A year in four shops: a script of facts, and an independent walk of who should be told when."""
