"""Photographs in a bucket, by the S3 protocol: kept, read back, taken away, seen by nobody else."""

import shutil
import socket
import urllib.error
import urllib.request
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from urllib.parse import quote

import boto3
import pytest
from django.test import Client
from django.urls import reverse
from moto.server import ThreadedMotoServer
from pypdf import PdfReader

from config.backup import BackupFault, backup_write
from config.environment import read_environment
from config.store import storages
from inspections.models import Photograph
from inspections.papers.site_sheets import SiteSheet, site_sheet_pdf
from inspections.services.deficiencies import deficiency_photograph
from inspections.services.photographs import photograph_add
from tests.config.test_backup import migrated, other_place  # noqa: F401  one is a fixture
from tests.inspections.test_photographs import picture, upload
from tests.lived import lived_in
from tests.sure import sure

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.alone]
REGION = "ca-central-1"


class Store:
    """A server that speaks S3, and what lies in its buckets."""

    def __init__(self, endpoint: str) -> None:
        self.endpoint = endpoint
        keys = {"aws_access_key_id": "of-tests", "aws_secret_access_key": "of-tests-alone"}
        self.client = boto3.client("s3", endpoint_url=endpoint, region_name=REGION, **keys)

    def bucket(self, name: str) -> dict[str, str]:
        """A new bucket, and the variables that say so."""
        where = {"LocationConstraint": REGION}
        self.client.create_bucket(Bucket=name, CreateBucketConfiguration=where)
        return {
            "STUDBAY_S3_BUCKET": name,
            "STUDBAY_S3_ENDPOINT": self.endpoint,
            "STUDBAY_S3_REGION": REGION,
            "STUDBAY_S3_ACCESS_KEY": "of-tests",
            "STUDBAY_S3_SECRET_KEY": "of-tests-alone",
        }

    def holds(self, bucket: str) -> dict[str, bytes]:
        """The objects of a bucket by name."""
        listed = self.client.list_objects_v2(Bucket=bucket).get("Contents", [])
        read = self.client.get_object
        return {each["Key"]: read(Bucket=bucket, Key=each["Key"])["Body"].read() for each in listed}


@pytest.fixture(scope="module")
def server() -> Iterator[str]:
    """On loopback, for the tests of this file."""
    made = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
    made.start()
    host, port = made.get_host_and_port()
    yield f"http://{host}:{port}"
    made.stop()


@pytest.fixture
def store(server, request) -> Iterator[Store]:
    """Without any bucket."""
    yield Store(server)
    urllib.request.urlopen(urllib.request.Request(f"{server}/moto-api/reset", method="POST"))


@pytest.fixture
def kept(store, settings, tmp_path) -> dict[str, str]:
    """The site keeps photographs in a bucket."""
    variables: dict[str, str] = store.bucket("photographs-of-tests")
    settings.STORAGES = storages(read_environment(variables), tmp_path / "nothing-here")
    return variables


@pytest.fixture
def item(shop, house_bytes):
    return shop.roughed_in(house_bytes).items.first()


def test_one_is_kept_and_read_back_by_whoever_may_see_it_and_by_nobody_else(
    store, kept, shop, stranger_shop, item, tmp_path
) -> None:
    crew = Client()
    crew.force_login(shop.lead)
    posted = {"photograph": upload(picture())}
    text = crew.post(reverse("photograph", args=[item.id]), posted, follow=True).text
    made = Photograph.objects.get()
    held = store.holds("photographs-of-tests")
    assert list(held) == [made.file.name]
    assert not (tmp_path / "nothing-here").exists()
    path = reverse("photograph-file", args=[made.id])
    answer = crew.get(path)
    assert answer.streaming
    assert answer.getvalue() == held[made.file.name]
    assert answer.headers["Content-Type"] == "image/jpeg"
    assert store.endpoint not in text
    assert "X-Amz" not in text
    stranger = Client()
    assert stranger.get(path).status_code == 302
    stranger.force_login(stranger_shop.office)
    assert stranger.get(path).status_code == 404
    name = quote(sure(made.file.name))
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(f"{store.endpoint}/photographs-of-tests/{name}")
    assert refused.value.code == 403


def test_it_is_taken_away_when_its_row_cannot_be_written(
    store, kept, shop, item, monkeypatch
) -> None:
    first = photograph_add(shop.lead, item=item, upload=upload(picture()))
    seen = []

    def fails(_self, *_: object, **__: object) -> None:
        seen.extend(store.holds("photographs-of-tests"))
        raise RuntimeError("no room")

    monkeypatch.setattr(Photograph, "save", fails)
    with pytest.raises(RuntimeError):
        photograph_add(shop.lead, item=item, upload=upload(picture("PNG")))
    assert len(seen) == 2
    assert list(store.holds("photographs-of-tests")) == [first.file.name]
    first.file.delete(save=False)
    assert store.holds("photographs-of-tests") == {}


def test_a_sheet_shows_what_lies_in_the_bucket(store, kept, shop, house_bytes) -> None:
    lived = lived_in(shop, house_bytes)
    job = lived["job"]
    deficiency = job.deficiencies.get()
    deficiency_photograph(shop.lead, deficiency=deficiency, upload=upload(picture()))
    assert len(store.holds("photographs-of-tests")) == 1
    sheet = site_sheet_pdf(job, job.revisions.last(), SiteSheet.DEFICIENCIES, "letter")
    assert sum(len(page.images) for page in PdfReader(BytesIO(sheet)).pages) == 1


@pytest.mark.parametrize("into", ["bucket", "folder"])
def test_a_backup_is_restored_into_another_bucket_or_a_folder(
    store,
    kept,
    shop,
    item,
    tmp_path,
    migrated,  # noqa: F811
    into,
) -> None:
    made = photograph_add(shop.lead, item=item, upload=upload(picture()))
    told = backup_write(tmp_path / "b")
    assert told.files == 1
    folder = tmp_path / "elsewhere"
    shutil.copytree(migrated, folder)
    more = store.bucket("photographs-elsewhere") if into == "bucket" else {}
    done = other_place(folder, "restore", str(tmp_path / "b"), **more)
    assert done.returncode == 0, done.stderr
    content = store.holds("photographs-of-tests")[made.file.name]
    if into == "bucket":
        assert store.holds("photographs-elsewhere") == {made.file.name: content}
        assert not (folder / "kept").exists()
    else:
        assert (folder / "kept" / made.file.name).read_bytes() == content
    again = other_place(folder, "backup", str(tmp_path / "again"), **more)
    assert told.digest in again.stdout, again.stderr


def test_one_that_is_gone_from_the_bucket_stops_the_backup(
    store, kept, shop, item, tmp_path
) -> None:
    made = photograph_add(shop.lead, item=item, upload=upload(picture()))
    store.client.delete_object(Bucket="photographs-of-tests", Key=made.file.name)
    with pytest.raises(BackupFault, match="its file is gone"):
        backup_write(tmp_path / "b")
    assert not Path(tmp_path / "b").exists()


def test_while_the_store_is_away_the_page_says_so_and_nothing_is_recorded(
    kept, shop, item, settings, tmp_path
) -> None:
    with socket.socket() as taken:  # bound and not listening: it refuses
        taken.bind(("127.0.0.1", 0))
        away = kept | {"STUDBAY_S3_ENDPOINT": f"http://127.0.0.1:{taken.getsockname()[1]}"}
        settings.STORAGES = storages(read_environment(away), tmp_path)
        crew = Client(raise_request_exception=False)
        crew.force_login(shop.lead)
        posted = {"photograph": upload(picture())}
        answer = crew.post(reverse("photograph", args=[item.id]), posted)
        assert answer.status_code == 503
        assert answer.headers["Retry-After"] == "5"
        assert "Photos are out of reach" in answer.text
        path = reverse("api-photographs", args=[item.id])
        answer = crew.post(path, {"file": upload(picture())})
        assert answer.status_code == 503, answer.text
        assert answer.json()["title"] == "Service Unavailable"
    assert not Photograph.objects.exists()
    assert not item.job.record.filter(action="photograph added").exists()
