"""The auditor: a program of its own that draws every conclusion again and compares the copies.

It reads the tables by its own queries and draws holds, stages, standings and what must have been
told by its own code, written from what the project promises and not from the code that keeps the
promises. So it imports models, the checker and nothing else that decides (`make lint` holds that).
"""
