"""The page of a job on a phone, measured: `python -m bench.surface [page]`.

The site runs in gunicorn with the house of planted defects; a browser is a phone of 390 x 844 whose
processor is slowed four times. Each figure is the median of several rounds. Writes
docs/results/surface.json and, from it, docs/surface.md; with `page` the page alone.
"""

import gzip
import json
import os
import platform
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from typing import Any
from urllib.request import Request, urlopen

from bench.surface_page import surface_markdown

ROOT = Path(__file__).resolve().parent.parent
RESULTS, PAGE = ROOT / "docs/results/surface.json", ROOT / "docs/surface.md"
HOUSES = {
    "planted, 118 boxes": "quillet-planted.json",
    "complying, 118 boxes": "quillet-corrected.json",
    "five rooms, 33 boxes": "gannet.json",
}
ROUNDS = 3


def main() -> int:
    """Measure and write both files."""
    if "page" not in sys.argv:
        from bench.site import surroundings

        with surroundings():
            figures = _measured()
        RESULTS.write_text(json.dumps(figures, indent=1) + "\n")
    page = surface_markdown(json.loads(RESULTS.read_text()))
    PAGE.write_text(page)
    print(page)
    return 0


def _measured() -> dict[str, Any]:
    from tests.people import Shopful

    shop = Shopful("Surface")
    jobs = {}
    for name, file in HOUSES.items():
        jobs[name] = shop.roughed_in((ROOT / "examples" / file).read_bytes())
    job = jobs["planted, 118 boxes"]
    with _site() as address:
        figures = _phone(address, shop, job)
    print(figures, flush=True)
    return {
        "page": figures,
        "sheets": {name: _sheets(each) for name, each in jobs.items()},
        "load average": round(os.getloadavg()[0], 2),
        "machine": f"{platform.machine()}, {os.cpu_count()} cores",
        "rounds": ROUNDS,
    }


@contextmanager
def _site() -> Iterator[str]:
    """The site in a process of its own, as a cluster runs it."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "gunicorn", "-b", f"127.0.0.1:{port}", "--threads", "4"]
    command += ["--log-level", "critical", "config.wsgi"]
    site = subprocess.Popen(command, cwd=ROOT)
    address = f"http://127.0.0.1:{port}"
    try:
        _wait_for(f"{address}/healthy")
        yield address
    finally:
        site.terminate()
        site.wait()


def _wait_for(address: str) -> None:
    until = time.monotonic() + 60
    while True:
        try:
            urlopen(address, timeout=5).close()
            return
        except OSError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def _phone(address: str, shop: Any, job: Any) -> dict[str, float]:
    """What the page weighs, how long it takes, and how many taps lead where."""
    from django.test import Client
    from playwright.sync_api import sync_playwright

    from bench.surface_phone import Phone

    client = Client()
    client.force_login(shop.lead)
    key = client.cookies["sessionid"].value
    lines = _failing(job)
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    figures = _weight(f"{address}/jobs/{job.id}/", key)
    with sync_playwright() as driver:
        phone = Phone(driver, address, key)
        try:
            figures |= phone.size(job.id)
            figures |= _medians(lambda: phone.times(job.id))
            figures |= _medians(lambda: phone.answers(job.id))
            figures |= phone.taps(job.id, lines)
            figures |= phone.taps_from_sign_in(job.id, shop.lead.username)
        finally:
            phone.end()
    return figures


def _failing(job: Any) -> dict[str, str]:
    """The last item of each room that is not to code."""
    found = {}
    for item in job.items.filter(current=True, stage="rough-in", verdict="not_to_code"):
        found[str(item.finding["room"])] = str(item.id)
    return found


def _medians(measure: Callable[[], dict[str, float]]) -> dict[str, float]:
    measure()  # once for what is kept from then on: files, plans
    rounds = []
    for _ in range(ROUNDS):
        rounds.append(measure())
    return {name: median(each[name] for each in rounds) for name in rounds[0]}


def _weight(address: str, key: str) -> dict[str, float]:
    """The page's bytes, as they are and as a front compresses them."""
    request = Request(address, headers={"Cookie": f"sessionid={key}"})
    with urlopen(request, timeout=60) as answer:
        page = answer.read()
    return {"HTML, kB": len(page) / 1000, "compressed, kB": len(gzip.compress(page, 6)) / 1000}


def _sheets(job: Any) -> dict[str, int]:
    """How many sheets each paper of a house has."""
    import io

    from pypdf import PdfReader

    from inspections.papers.documents import job_checklist_pdf
    from inspections.papers.inspector_pack import inspector_pack_pdf
    from inspections.papers.site_list import job_site_list_pdf
    from inspections.selectors import latest_revision

    papers = {
        "site list": job_site_list_pdf,
        "inspector's pack": inspector_pack_pdf,
        "checklist, every line": job_checklist_pdf,
    }
    counts = {}
    revision = latest_revision(job)
    assert revision is not None  # the job was made with a house
    for name, write in papers.items():
        counts[name] = len(PdfReader(io.BytesIO(write(job, revision))).pages)
    return counts


if __name__ == "__main__":
    sys.exit(main())
