"""Which photographs of a work come along when it is sent, and how large: the choices of a sender."""

from __future__ import annotations

import io
import re

import pytest
from click.testing import CliRunner
from parcels import WHO, contents, house, with_pictures
from PIL import Image

from catalogue.command import main
from catalogue.errors import BadSetting
from catalogue.exchange.parcels.pictures import Pictures, choices
from catalogue.linked.text import parse
from catalogue.record import Title, Work
from catalogue.studio import Studio


@pytest.fixture(scope="module")
def studio():
    with house() as opened:
        yield opened


def copies(held):
    """The longer sides of the copies in a parcel, by whether the page shows them whole or small."""
    found = {"pictures": [], "small": []}
    for name, content in held.items():
        if place := re.match(r"data/(pictures|small)/.*\.(jpg|png)", name):
            with Image.open(io.BytesIO(content)) as picture:
                found[place[1]].append(max(picture.size))
    return found


def parcel(studio, out, **how):
    studio.export("parcel", how.pop("profile", "public"), out, who=WHO, **how)
    (made,) = out.iterdir()
    return made


def manifests(held):
    return {
        name: len(parse(content)["items"])
        for name, content in held.items()
        if name.endswith(".manifest.jsonld")
    }


@pytest.mark.parametrize(("which", "sent"), [("all", 2), ("chosen", 1), ("none", 0)])
def test_a_sender_chooses_which_photographs_come_along(studio, tmp_path, which, sent):
    """The studio's work has a view of the whole back with an inscription marked on it, and a detail."""
    held = contents(parcel(studio, tmp_path, pictures=which))
    assert {name: len(found) for name, found in copies(held).items()} == {
        "pictures": sent,
        "small": sent,
    }
    assert list(manifests(held).values()) == ([sent] if sent else [])
    page = held["data/index.html"].decode()
    # each in the row of pictures, and the first of them large beside the facts
    assert page.count("<img") == sent + bool(sent)
    told = f"Not sent with this parcel: {2 - sent} more of its photographs."
    assert (told in page) is (sent < 2)
    assert "did not come along" not in page


def test_nobody_asked_means_what_the_vocabulary_says(studio, tmp_path):
    unsaid = parcel(studio, tmp_path / "unsaid")
    said = parcel(studio, tmp_path / "said", pictures="all", longest_px=2000)
    assert unsaid.read_bytes() == said.read_bytes()


def test_copies_are_as_large_as_they_were_asked_to_be(studio, tmp_path):
    held = contents(parcel(studio, tmp_path, longest_px=120))
    assert copies(held) == {"pictures": [120, 120], "small": [120, 120]}
    # never larger than the photographs themselves, of 240 and 300 pixels
    held = contents(parcel(studio, tmp_path / "large", longest_px=5000))
    assert sorted(copies(held)["pictures"]) == [240, 300]


def test_untouched_photographs_travel_with_everything_whatever_is_chosen(studio, tmp_path):
    """What is sent with everything restores a studio: copies are only for looking at."""
    held = contents(parcel(studio, tmp_path, profile="full", pictures="none"))
    assert not copies(held)["pictures"]
    assert len([name for name in held if name.startswith("data/originals/")]) == 2


def test_a_copy_that_came_along_is_made_smaller_when_it_is_sent_on(studio, tmp_path):
    first = parcel(studio, tmp_path / "first")
    with Studio.open("memory:") as other:
        list(other.import_([first], who=WHO))
        again = contents(parcel(other, tmp_path / "again", longest_px=120))
    assert copies(again)["pictures"] == [120, 120]


def test_iiif_holds_what_was_chosen(studio, tmp_path):
    studio.export("iiif", "public", tmp_path, who=WHO, pictures="chosen", longest_px=120)
    (manifest,) = tmp_path.glob("*.manifest.jsonld")
    (item,) = parse(manifest.read_bytes())["items"]
    body = item["items"][0]["items"][0]["body"]
    assert max(body["width"], body["height"]) == 120
    assert len(list(tmp_path.glob("*.jpg"))) == 1


def test_what_cannot_be_is_refused_in_words(studio, tmp_path):
    with pytest.raises(BadSetting, match="choose one of: all, chosen, none"):
        parcel(studio, tmp_path, pictures="some")
    with pytest.raises(BadSetting, match="give 100 to 20000 pixels"):
        parcel(studio, tmp_path, longest_px=0)
    with pytest.raises(BadSetting, match="choose the format iiif or parcel"):
        studio.export("csv", "public", tmp_path, who=WHO, pictures="none")
    assert not list(tmp_path.iterdir())


def test_every_choice_is_told_in_a_sentence():
    assert list(choices()) == ["all", "chosen", "none"]
    assert all(choices().values())
    assert all(Pictures(each).of(Work()) == [] for each in choices())


def test_at_the_command_line(tmp_path):
    with Studio.init(tmp_path / "studio") as studio:
        studio.save(
            Work(titles=(Title(text="A Stile", kind="title/descriptive", preferred=True),)),
            who=WHO,
        )

    def said(*typed):
        ran = CliRunner().invoke(main, ["--studio", str(tmp_path / "studio"), *typed])
        return ran.exit_code, ran.output

    order = ["export", "--profile", "public", "--all"]
    out = ["--out", str(tmp_path / "out")]
    choice = ["--pictures", "chosen", "--longest", "1200"]
    code, told = said(*order, *out, "--format", "parcel", *choice)
    assert code == 0, told
    code, told = said(*order, *out, "--format", "csv", *choice)
    assert code != 0
    assert "no photographs leave as csv" in told
    code, told = said(*order, *out, "--format", "parcel", "--pictures", "best")
    assert code != 0
    assert "choose one of: all, chosen, none" in told
    told = said("export", "--help")[1]
    for each in choices().values():
        assert each.split(",")[0] in " ".join(told.split())


def test_a_work_with_pictures_is_what_the_studio_of_these_tests_has(studio):
    """Else the counts above would say little."""
    work = with_pictures(studio)
    assert [each.view for each in work.photos] == ["view/whole", "view/detail"]
    assert {each.photo for each in work.inscriptions[0].regions} == {work.photos[0].id}
