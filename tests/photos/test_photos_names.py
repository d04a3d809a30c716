"""Names that a file may come with, and those that are refused."""

from __future__ import annotations

import ntpath
from pathlib import PureWindowsPath

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.errors import BadPicture
from catalogue.photos import clean_name


@pytest.mark.parametrize(
    "name",
    [
        "back.jpg",
        "IMG_0001.JPG",
        "dos, étiquette n° 3.tiff",
        "оборот.png",
        "裏面.heic",
        "a",
        ".hidden",
        "2024-03-05 14.07 (2).dng",
        "x" * 251 + ".jpg",
        "console.jpg",
        "com10.png",
    ],
)
def test_a_plain_name_stays_as_it_came(name):
    assert clean_name(name) == name


@pytest.mark.parametrize(
    ("name", "reason"),
    [
        ("../x.jpg", "carries a path"),
        ("a/b.jpg", "carries a path"),
        ("/x.jpg", "carries a path"),
        (r"C:\x.jpg", "carries a path"),
        (r"..\x.jpg", "carries a path"),
        (r"\\server\share\x.jpg", "carries a path"),
        ("C:x.jpg", "carries a path"),
        ("x\x00.jpg", "control sign (U+0000)"),
        ("x\n.jpg", "control sign (U+000A)"),
        ("x\ud800.jpg", "control sign (U+D800)"),
        ("x\u202egpj.exe", "reading direction (U+202E)"),
        ("x\u2067.jpg", "reading direction (U+2067)"),
        ("x" * 252 + ".jpg", "longer than 255 bytes"),
        ("裏" * 90 + ".jpg", "longer than 255 bytes"),
        ("", "is empty"),
        ("   ", "dots and spaces"),
        ("..", "dots and spaces"),
        ("back.", "ends in a dot or a space"),
        ("back.jpg ", "ends in a dot or a space"),
        ("CON", "reserved"),
        ("nul.jpg", "reserved"),
        ("Lpt1.tar.gz", "reserved"),
        ("COM¹.jpg", "reserved"),
        ("back?.jpg", "some machines cannot store"),
        ("back.jpg:hidden", "some machines cannot store"),
    ],
)
def test_a_name_that_could_do_harm_is_refused(name, reason):
    with pytest.raises(BadPicture) as refused:
        clean_name(name)
    assert reason in str(refused.value)
    assert refused.value.remedy
    assert str(refused.value).isascii() or str(refused.value).replace("\n", "").isprintable()


def windows_reserves(name):
    reserved = getattr(ntpath, "isreserved", None)  # Python 3.13 moved it there
    return reserved(name) if reserved else PureWindowsPath(name).is_reserved()


@given(st.text(max_size=40))
@example("CONIN$ .txt")
@example("aux .jpg")
def test_what_is_accepted_is_one_plain_name_by_the_standard_library(name):
    # outside check: Python's own rules for Windows paths, and for what a path's last part is
    try:
        clean_name(name)
    except BadPicture:
        return
    assert PureWindowsPath(name).name == name
    assert not windows_reserves(name)
