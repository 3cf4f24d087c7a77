"""What whoever runs the server types: a command with an argument that may be anything."""

from io import StringIO

from django.core.management import CommandError, call_command, get_commands

from tests.hostile.scene import Scene

COMMANDS = {
    "verify_record": "job_id",
    "audit": "job_id",
    "second_factor_off": "person",
}
"""Commands that ask the tables or write to them, and what each takes."""


def typed(scene: Scene) -> str:
    """Run one; what it was. It ends, or says in a line why not."""
    dice = scene.dice
    name = dice.among([each for each in COMMANDS if each in get_commands()])
    given = scene.id("job_id") if COMMANDS[name] == "job_id" else scene.side.lead.username
    argument = str(dice.text(odd=100)) if dice.odd(30) else given
    argument = argument.replace("\0", "")  # no system hands a NUL to a program
    try:
        call_command(name, "--", argument, stdout=StringIO(), stderr=StringIO())
    except CommandError as refused:
        return f"manage.py {name} {argument!r}: {refused}"
    except SystemExit as ended:
        return f"manage.py {name} {argument!r}: {ended.code}"
    return f"manage.py {name} {argument!r}"
