"""Papers of a job, from what is on record."""
