"""The record of a job: its chain, its feed, and the check of a paper."""
