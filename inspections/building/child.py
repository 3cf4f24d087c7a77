"""The process that reads one model: path, name and bounds in, JSON out.

python -m inspections.building.child ifc PATH NAME BYTES SECONDS
"""

import json
import resource
import sys


def main(form: str, path: str, name: str, memory: str, seconds: str) -> int:
    """Print what was read as JSON. Exit 3 when a library is missing, 2 when it cannot be read.

    It bounds itself first, in bytes of memory and seconds of the processor.
    """
    resource.setrlimit(resource.RLIMIT_AS, (int(memory), int(memory)))
    resource.setrlimit(resource.RLIMIT_CPU, (int(seconds), int(seconds)))
    try:
        if form == "ifc":
            from .ifc import read_ifc as read
        else:
            from .dxf import read_dxf as read
    except ImportError as missing:
        print(json.dumps({"missing": missing.name}))
        return 3
    try:
        made = read(path, name)
    except Exception as fault:  # noqa: BLE001, whatever a library says is told to who sent it
        print(json.dumps({"fault": f"{type(fault).__name__}: {fault}"[:300]}))
        return 2
    print(json.dumps(made))
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:6]))
