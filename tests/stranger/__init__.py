"""The stranger shop: another shop beside which every test runs.

Each of its names and codes holds a marked word and each of its ids a marked number, so that
whatever of it shows where it should not is known at sight. Its areas have codes that the tested
shops have too. It is made once, by the services (`python -m tests.stranger`), kept as rows in
`rows.json`, and put into each test database as it is: nothing of it is due, at any time.
"""

from tests.stranger.rows import put, put_back, put_files, take_out, there

MARK = "zzyzx"
"""In every name and code, in capitals or not."""
NUMBER = "5ca1ab1e"
"""In every id, as text and as hex."""

__all__ = ["MARK", "NUMBER", "put", "put_back", "put_files", "take_out", "there"]
