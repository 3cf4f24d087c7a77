"""Databases of earlier versions, upgraded by this one with nothing lost.

Each folder `v...` is of a version: a database of either kind with a job at each stage, what a phone
that was loaded before the upgrade has still to send (`queue.json`), what that version showed
(`expected.json`), and the program that made them in a checkout of that version (`made_by.txt`).

The other folders were kept by `make.py` of the commit that their tag names, before tables changed:
`test_from_before.py` holds later code to all that they showed. What is called otherwise since is
said in `renamed.py`, for both.
"""
