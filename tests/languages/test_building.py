"""Compiled catalogues are built where they are missing or stale, and never wanting in silence."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from config.languages.available import TRANSLATED
from config.languages.catalogue import FOLDER, build_catalogues, read_phrases

ROOT = Path(__file__).resolve().parents[2]
PHRASE = '\nmsgid "A phrase of this test"\nmsgstr "Une phrase"\n'
pytestmark = pytest.mark.any_database


@pytest.fixture
def source(tmp_path: Path) -> Path:
    """A catalogue in a folder like the program's own, as a translator left it."""
    path = tmp_path / "fr" / "LC_MESSAGES" / "django.po"
    path.parent.mkdir(parents=True)
    shutil.copy(FOLDER / "fr" / "LC_MESSAGES" / "django.po", path)
    return path


def test_what_is_missing_is_built_and_what_is_current_left_alone(source: Path, tmp_path) -> None:
    compiled = source.with_suffix(".mo")
    assert build_catalogues(tmp_path) == [compiled]
    assert read_phrases(compiled) == read_phrases(FOLDER / "fr" / "LC_MESSAGES" / "django.mo")
    assert build_catalogues(tmp_path) == []


def test_what_was_changed_since_is_built_again(source: Path, tmp_path) -> None:
    (compiled,) = build_catalogues(tmp_path)
    later = compiled.stat().st_mtime + 1
    source.write_text(source.read_text("utf-8") + PHRASE, "utf-8")
    os.utime(source, (later, later))
    assert build_catalogues(tmp_path) == [compiled]
    assert read_phrases(compiled)["A phrase of this test"] == "Une phrase"


def test_who_may_read_the_source_may_read_what_is_built(source: Path, tmp_path) -> None:
    """An image is built by root with any umask, and the site in it runs as somebody else."""
    source.chmod(0o644)
    before = os.umask(0o077)
    try:
        (compiled,) = build_catalogues(tmp_path)
    finally:
        os.umask(before)
    assert compiled.stat().st_mode & 0o777 == 0o644


def test_where_nothing_can_be_written_the_sentence_has_a_remedy(source: Path, tmp_path) -> None:
    source.with_suffix(".mo").mkdir()  # refuses root as well, whom no mode of a folder does
    past = source.stat().st_mtime - 10
    os.utime(source.with_suffix(".mo"), (past, past))
    with pytest.raises(ImproperlyConfigured, match=r"is not compiled.*python -m config\.languages"):
        build_catalogues(tmp_path)
    assert {path.name for path in source.parent.iterdir()} == {"django.po", "django.mo"}


def test_a_catalogue_that_gettext_cannot_read_is_named(source: Path, tmp_path) -> None:
    source.write_text('msgid "one"\nmsgid "two"\nnonsense\n', "utf-8")
    with pytest.raises(ImproperlyConfigured, match=r"django\.po is no catalogue of gettext"):
        build_catalogues(tmp_path)


def test_several_processes_build_at_once(source: Path, tmp_path) -> None:
    command = (
        "import sys, pathlib; from config.languages.catalogue import build_catalogues;"
        "build_catalogues(pathlib.Path(sys.argv[1]))"
    )
    started = [
        subprocess.Popen([sys.executable, "-c", command, str(tmp_path)], cwd=ROOT) for _ in range(4)
    ]
    assert [process.wait(60) for process in started] == [0, 0, 0, 0]
    assert {path.name for path in source.parent.iterdir()} == {"django.po", "django.mo"}
    assert len(read_phrases(source.with_suffix(".mo"))) > 2_500


def test_whoever_reads_the_settings_has_every_language(tmp_path) -> None:
    """So whatever is started from a fresh checkout: the site, a worker, a command, a test."""
    for language in TRANSLATED:
        folder = tmp_path / "locale" / language / "LC_MESSAGES"
        folder.mkdir(parents=True)
        shutil.copy(FOLDER / language / "LC_MESSAGES" / "django.po", folder)
    said = (
        "import pathlib, sys; from config.languages import catalogue;"
        "catalogue.FOLDER = pathlib.Path(sys.argv[1]); import django; django.setup();"
        "from django.utils import translation; translation.activate('fr');"
        "print(translation.gettext('Press a box or the panel.'))"
    )
    done = subprocess.run(
        [sys.executable, "-c", said, str(tmp_path / "locale")],
        cwd=ROOT,
        env=os.environ | {"DJANGO_SETTINGS_MODULE": "config.settings"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "Appuyez sur une boîte ou sur le panneau."
    assert len(list(tmp_path.glob("locale/*/*/django.mo"))) == len(TRANSLATED)
