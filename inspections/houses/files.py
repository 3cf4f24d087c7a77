"""The house of a job as a file to fill in, and to send back."""

from django.utils.text import slugify

from inspections.checker.load import load_house
from inspections.checker.workbook import csv_zip, xlsx
from inspections.selectors import latest_revision
from jobs.models import Job

FORMS = {
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "zip": "application/zip",
}
"""The endings of such files, and what they are to a browser."""


def house_file_of(job: Job, form: str) -> tuple[str, bytes]:
    """The name and bytes of the job's latest house in a form; blank when none is recorded."""
    revision = latest_revision(job)
    house = None
    if revision:
        house = load_house(revision.house.encode())
    made = {"xlsx": xlsx, "zip": csv_zip}[form](house)
    number = ""
    if revision:
        number = f"-{revision.number}"
    return f"{slugify(job.name) or 'house'}{number}.{form}", made
