"""Run a command in this process as a terminal would, and keep what it printed."""

from io import StringIO

from django.core.management.base import BaseCommand


def run(command: type[BaseCommand], *arguments: str) -> tuple[int, str, str]:
    """The exit code, standard output and standard error of a command."""
    out, err = StringIO(), StringIO()
    made = command(stdout=out, stderr=err, no_color=True)
    options = vars(made.create_parser("manage.py", "command").parse_args(list(arguments)))
    try:
        made.execute(**options)
    except SystemExit as end:
        return int(end.code or 0), out.getvalue(), err.getvalue()
    return 0, out.getvalue(), err.getvalue()
