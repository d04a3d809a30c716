"""Zips from strangers: what is refused before anything is unpacked, and in which words."""

import stat
import zipfile

import pytest

from catalogue.errors import BadDocument
from catalogue.exchange.zips import Limits, content, opened


def a_zip(tmp_path, **entries):
    made = tmp_path / "sent.zip"
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as file:
        for name, held in entries.items():
            file.writestr(name, held)
    return made


def test_an_honest_zip_is_opened(tmp_path):
    with opened(a_zip(tmp_path, **{"data/one.json": "{}"})) as file:
        assert content(file, "data/one.json", 100) == b"{}"


@pytest.mark.parametrize(
    "name", ["../out.json", "/etc/out.json", "a/../../b", "C:out.json", "a\\..\\b", "a\nb"]
)
def test_a_name_that_leads_out_of_the_folder_is_refused(tmp_path, name):
    with (
        pytest.raises(BadDocument, match="leads out of the folder"),
        opened(a_zip(tmp_path, **{name: "x"})),
    ):
        pass


def test_a_bomb_is_refused_before_it_swells(tmp_path):
    with (
        pytest.raises(BadDocument, match="swells"),
        opened(a_zip(tmp_path, bomb="0" * 50_000_000)),
    ):
        pass


def test_a_link_is_refused(tmp_path):
    made = tmp_path / "sent.zip"
    with zipfile.ZipFile(made, "w") as file:
        link = zipfile.ZipInfo("photo.jpg")
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        file.writestr(link, "/etc/passwd")
    with pytest.raises(BadDocument, match="a link to another file"), opened(made):
        pass


def test_too_many_files_and_two_of_one_name_are_refused(tmp_path):
    many = a_zip(tmp_path, **{f"{n}.txt": "" for n in range(12)})
    with pytest.raises(BadDocument, match="holds 12 files"), opened(many, Limits(entries=10)):
        pass
    twice = a_zip(tmp_path, **{"A.txt": "1", "a.TXT": "2"})
    with pytest.raises(BadDocument, match="two files of that name"), opened(twice):
        pass


def test_more_than_the_limits_in_all_is_refused(tmp_path):
    made = a_zip(tmp_path, a="xy" * 600, b="yx" * 600)
    with pytest.raises(BadDocument, match="unpacked"), opened(made, Limits(all_bytes=2000)):
        pass


def test_damage_is_told_in_words(tmp_path):
    made = a_zip(tmp_path, **{"one.txt": "one two three " * 50})
    held = bytearray(made.read_bytes())
    held[45] ^= 0xFF
    made.write_bytes(held)
    with pytest.raises(BadDocument, match="cannot be unpacked"), opened(made) as file:
        content(file, "one.txt", 1000)


def test_what_is_no_zip_is_said(tmp_path):
    other = tmp_path / "sent.zip"
    other.write_bytes(b"PK\x03\x04 and no more")
    with pytest.raises(BadDocument, match="is no zip"), opened(other):
        pass
