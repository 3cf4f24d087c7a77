"""What follows from the facts of one job: holds, stages, moves, breaches. Pure."""
