"""`dorse code`: keys are kept unseen, read with, and leave with nothing."""

import json

import pytest
from click.testing import CliRunner
from made_records import WHO, full_work

from catalogue.command import main
from catalogue.studio import Studio

KEY = "BLACKHORSE"  # invented test key of the sheet of datable evidence, X repeats


@pytest.fixture
def folder(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        studio.save(full_work(), who=WHO)
    return tmp_path / "studio"


def code(folder, *words, typed=None, exit_code=0):
    ran = CliRunner().invoke(main, ["--studio", str(folder), "code", *words], input=typed)
    assert ran.exit_code == exit_code, ran.output
    return ran.output


@pytest.mark.parametrize(
    ("written", "number"),
    [("BLKE", 1250), ("KX", 55), ("BEX", 100), ("LXEX", 2200), ("SOR", 978)],
)
def test_a_code_is_read_by_the_key_on_file(folder, written, number):
    # the sheet's check values
    said = code(folder, "--keep", "Harbour Rooms", "--repeaters", "X", typed=f"{KEY}\n")
    assert KEY not in said
    (row,) = map(json.loads, code(folder, written, "--json").splitlines())
    assert row == {"key": "Harbour Rooms", "figures": str(number), "number": number}


def test_a_doubtful_letter_has_several_readings(folder):
    code(folder, "--keep", "one", typed=f"{KEY}\n")
    rows = [json.loads(line) for line in code(folder, "SO?", "--json").splitlines()]
    assert sorted(row["number"] for row in rows) == list(range(970, 980))


def test_what_cannot_be_a_key_or_a_code_is_said(folder):
    assert "a key has ten letters" in code(folder, "--keep", "x", typed="BLACK\n", exit_code=1)
    code(folder, "--keep", "one", typed=f"{KEY}\n")
    assert "Z is not in the key" in code(folder, "BLZ", "--key", "one", exit_code=1)
    assert "no key is called" in code(folder, "BLKE", "--key", "two", exit_code=1)
    assert "no key on file fits" in code(folder, "BLZ")
    code(folder, "--drop", "one")
    assert code(folder, "--keys").strip() == ""


def test_a_key_leaves_in_no_export_and_stands_in_no_change(folder, tmp_path):
    code(folder, "--keep", "one", typed=f"{KEY}\n")
    with Studio.open(folder) as studio:
        for number, name in enumerate(studio.formats()):
            studio.export(name, "full", tmp_path / str(number))
        assert all(KEY not in str(change) for change in studio.history())
    sent = [
        path for path in tmp_path.rglob("*") if path.is_file() and folder not in path.parents
    ]
    assert sent
    assert all(KEY.encode() not in path.read_bytes() for path in sent)
