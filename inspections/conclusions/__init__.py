"""From the rows of jobs to what follows of them, each kind of row read once."""
