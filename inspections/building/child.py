"""The process that reads one model: form, path and name in, JSON out.

It is run by `config.child_process`, which bounds it first.
"""

import json


def main(form: str, path: str, name: str) -> int:
    """Print what was read as JSON. Exit 3 when a library is missing, 2 when it cannot be read."""
    try:
        if form == "ifc":
            from .ifc import read_ifc as read
        else:
            from .dxf import read_dxf as read
    except ModuleNotFoundError as missing:
        print(json.dumps({"missing": missing.name}))
        return 3
    except ImportError as fault:  # it is installed, and not to be loaded: in too little memory, say
        print(json.dumps({"fault": f"{type(fault).__name__}: {fault}"[:300]}))
        return 2
    try:
        made = read(path, name)
    except Exception as fault:  # noqa: BLE001, whatever a library says is told to who sent it
        print(json.dumps({"fault": f"{type(fault).__name__}: {fault}"[:300]}))
        return 2
    print(json.dumps(made))
    return 0
