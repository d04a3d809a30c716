"""The command line: the main job from an empty folder, exit codes, and errors in words."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from made_records import ARTIST, full_work
from PIL import Image

from catalogue.command import main
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write_readable


@pytest.fixture
def folder(tmp_path):
    """A folder with two records to take in."""
    records = tmp_path / "records"
    records.mkdir()
    for record in (ARTIST, full_work()):
        (records / f"{record.document.replace('/', '-')}.json").write_bytes(
            write_readable(to_jsonld(record))
        )
    return records


def dorse(*words, code=0, **given):
    ran = CliRunner().invoke(main, [str(word) for word in words], **given)
    assert ran.exit_code == code, ran.output
    return ran


@pytest.fixture
def house(folder, tmp_path):
    """A studio on the disk with those two records."""
    where = tmp_path / "house"
    dorse("--studio", where, "init")
    dorse("--studio", where, "--who", "Nell", "import", folder)
    return where


def test_the_main_job_from_an_empty_folder(house, tmp_path):
    rows = dorse("--studio", house, "search", "trewin", "--json").output.splitlines()
    first = json.loads(rows[0])
    assert first.keys() >= {"work", "where", "kind", "text", "score", "why"}
    assert first["work"] == "2026-041"
    for words in (
        ["--artist", "penhale"],
        ["--date", "1885-1890"],
        ["low", "water"],
        ["--kind", "label"],
    ):
        assert "2026-041" in dorse("--studio", house, "search", *words).output, words
    assert "2026-041" not in dorse("--studio", house, "search", "--date", "1950").output
    out = tmp_path / "sent"
    told = dorse(
        "--studio",
        house,
        "export",
        "--format",
        "linked-art",
        "--profile",
        "public",
        "--out",
        out,
        "--all",
    )
    assert "stayed home" in told.output
    listed = dorse(
        "--studio", house, "export", "--format", "full-graph", "--profile", "public",
        "--out", out, "--list-home", "2026-041",
    ).output  # fmt: skip
    assert "nobody has released this text" in listed
    assert "Bought from a cellar" not in listed
    (work,) = [path for path in out.glob("work-*.json") if len(path.stem) == len("work-") + 36]
    assert json.loads(work.read_text())["type"] == "HumanMadeObject"
    assert "as saved" in dorse("--studio", house, "verify").output


def test_a_new_work_from_the_command_line(house, tmp_path):
    Image.new("RGB", (80, 60), "tan").save(tmp_path / "back.jpg")
    number = dorse(
        "--studio", house, "add", "--title", "Harbour", "--artist", "Ada Penhale", "--date", "c. 1890",
        tmp_path / "back.jpg",
    ).output.strip()  # fmt: skip
    shown = dorse("--studio", house, "show", number).output
    assert "Harbour" in shown
    assert "Ada Penhale" in shown
    assert "c. 1890" in shown
    assert json.loads(dorse("--studio", house, "show", number, "--json").output)["type"]


def test_a_paper_is_added_to_a_work_on_file(house, tmp_path):
    letter = tmp_path / "letter of sale.pdf"
    letter.write_bytes(b"%PDF-1.4")
    told = dorse(
        "--studio",
        house,
        "add",
        "--to",
        "2026-041",
        "--paper",
        letter,
        "--paper-kind",
        "letter",
    )
    assert told.output.strip() == "2026-041"
    kept = dorse("--studio", house, "show", "2026-041", "--json").output
    assert "letter of sale" in kept
    wrong = dorse(
        "--studio", house, "add", "--to", "2026-041", "--paper", letter, "--paper-kind", "lettr", code=1
    )  # fmt: skip
    assert "did you mean paper/letter" in wrong.stderr
    dorse("--studio", house, "add", "--paper", letter, code=2)
    dorse("--studio", house, "add", "--title", "Harbour", "--to", "2026-041", code=2)


def test_who_did_what_is_on_record(house):
    rows = [
        json.loads(row)
        for row in dorse("--studio", house, "history", "--json").output.splitlines()
    ]
    assert rows[-1]["who"] == "Nell"
    assert rows[-1]["why"].startswith("import")


def test_a_head_that_was_printed_is_found_again_and_a_strange_one_is_not(house):
    head = dorse("--studio", house, "verify", "--head").output.strip()
    dorse("--studio", house, "verify", "--expect", head)
    dorse("--studio", house, "verify", "--expect", "f" * 64, code=1)


def test_a_backup_comes_back_in_another_folder(house, tmp_path):
    dorse("--studio", house, "backup", tmp_path / "copy.tar")
    dorse("--studio", tmp_path / "again", "restore", tmp_path / "copy.tar")
    assert "2026-041" in dorse("--studio", tmp_path / "again", "search", "trewin").output


def test_forgetting_a_party_asks_first(house):
    dorse("--studio", house, "forget", "Ada Penhale", "--why", "asked", code=1, input="n\n")
    dorse("--studio", house, "forget", "Ada Penhale", "--why", "asked", "--yes")
    assert "Ada Penhale" not in dorse("--studio", house, "show", "2026-041").output


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["show", "2026-041"], 2, "name the studio"),
        (["--studio", "nowhere", "show", "1"], 1, "init"),
        (["--studio", "HOUSE", "show", "2026-999"], 1, "2026-999"),
        (["--studio", "HOUSE", "export", "--format", "x", "--profile", "public", "--out", "o", "--all"], 1, "choose one of"),
        (["--studio", "HOUSE", "export", "--format", "linked-art", "--profile", "x", "--out", "o", "--all"], 1, "choose one of"),
        (["--studio", "HOUSE", "export", "--format", "linked-art", "--profile", "public", "--out", "o"], 2, "--all"),
        (["--studio", "HOUSE", "search", "--date", "31 February 1900"], 1, "there is no day"),
        (["--studio", "HOUSE", "import", "missing.json"], 2, "does not exist"),
        (["--studio", "HOUSE", "init"], 1, "already"),
        (["--studio", "HOUSE", "unheard-of"], 2, "No such command"),
    ],
)  # fmt: skip
def test_errors_are_in_words_with_the_right_code(house, words, code, says):
    ran = dorse(*[house if word == "HOUSE" else word for word in words], code=code)
    assert says in ran.output
    assert "Traceback" not in ran.output


def test_a_bad_file_among_good_ones_is_said_and_counted(house, tmp_path):
    (tmp_path / "broken.json").write_text("{")
    ran = dorse("--studio", house, "import", tmp_path / "broken.json", code=1)
    assert "not JSON" in ran.output


def test_help_loads_nothing_heavy():
    code = (
        "import sys; from catalogue.command import main\n"
        "try: main(['--help'])\n"
        "except SystemExit: pass\n"
        "heavy = {'flask', 'whoosh', 'rdflib', 'pyld', 'lxml', 'PIL', 'sqlalchemy'} & set(sys.modules)\n"
        "sys.exit(str(heavy) if heavy else 0)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
    for name in ("import", "search", "export", "verify", "demo", "serve"):
        assert name in ran.stdout


def test_the_wheel_works_from_another_folder_and_carries_nothing_stray(tmp_path, folder):
    import zipfile

    root = Path(__file__).parent.parent
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "dist")],
        cwd=root, check=True, capture_output=True,
    )  # fmt: skip
    (wheel,) = (tmp_path / "dist").glob("dorse-*.whl")
    site = tmp_path / "site"
    with zipfile.ZipFile(wheel) as parcel:
        names = parcel.namelist()
        parcel.extractall(site)
    tops = {name.split("/")[0] for name in names}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"catalogue"}
    assert not [
        name for name in names if "__pycache__" in name or name.endswith((".pyc", ".jpg"))
    ]
    for inside in (
        "vocab/profiles.toml",
        "vocab/terms/face.ttl",
        "templates/",
        "sample_records/",
    ):
        assert any(name.startswith(f"catalogue/{inside}") for name in names), inside
    run = [sys.executable, "-m", "catalogue.command", "--studio", str(tmp_path / "s")]
    environment = {"PYTHONPATH": str(site), "PATH": "/usr/bin:/bin", "HOME": str(tmp_path)}
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    for words in (["init"], ["import", str(folder)], ["show", "2026-041"]):
        ran = subprocess.run(
            [*run, *words], cwd=elsewhere, env=environment, capture_output=True, text=True
        )
        assert ran.returncode == 0, ran.stderr
    assert "Low Water" in ran.stdout
    where = subprocess.run(
        [sys.executable, "-c", "import catalogue; print(catalogue.__file__)"],
        cwd=elsewhere, env=environment, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert str(site) in where.stdout, "another package of the name catalogue was imported"
