"""Manifests: a second reader takes every one, and each says what it should about its photographs.

Outside: IIIF Presentation API 3.0 (sections named beside the checks), iiif-prezi3 as a second reader,
and what published validators miss, from the sheet of standards, section 4.
"""

from __future__ import annotations

import io
import json
import re
from copy import deepcopy
from dataclasses import replace

import iiif_prezi3
import pytest
from lxml import etree
from made_records import full_work
from PIL import Image
from sent_works import BASE, files, sample_works
from test_redaction import SECRETS

from catalogue.errors import BadSetting
from catalogue.exchange.iiif import manifest as iiif
from catalogue.exchange.iiif import words as iiif_words
from catalogue.exchange.iiif.manifest import write
from catalogue.measure import Day
from catalogue.record import (
    ConditionCheck,
    Finding,
    Inscription,
    Note,
    Observation,
    Photo,
    Region,
    Title,
    Transcript,
    Work,
)

PROFILES = ("public", "sale", "owner", "full")
UUID = "0b0e6f0a-6d7c-4f5e-9a41-00000000000{}".format

SMALL = Work(
    id=UUID(1),
    number="2026-041",
    titles=(Title(text="Marée basse", kind="title/inscribed", language="fr"),),
    photos=(
        Photo(
            id=UUID(2),
            number="P1",
            sha256="ab" * 32,
            media_type="image/jpeg",
            width=300,
            height=200,
            face="face/back",
        ),
    ),
    inscriptions=(
        Inscription(
            id=UUID(3),
            number="I1",
            kind="inscription/label",
            face="face/back",
            languages=("en",),
            regions=(
                Region(
                    id=UUID(4), photo=UUID(2), corners=((10, 20), (60, 20), (60, 50), (10, 50))
                ),
                Region(
                    id=UUID(5), photo=UUID(2), corners=((10, 20), (60, 25), (58, 50), (8, 45))
                ),
            ),
            transcripts=(Transcript(id=UUID(6), markup="Gal.(erie) Ho[...]nn|Lot 3"),),
        ),
        Inscription(
            id=UUID(7),
            number="I2",
            kind="inscription/stamp",
            face="face/back",
            languages=("en",),
            regions=(
                Region(id=UUID(8), photo=UUID(2), corners=((1, 1), (9, 1), (9, 9), (1, 9))),
            ),
            transcripts=(Transcript(id=UUID(9), markup="{{crown over shield}}"),),
        ),
    ),
)


def manifest_of(made):
    (name,) = [name for name in made if name.endswith(".manifest.jsonld")]
    return json.loads(made[name])


def annotations(manifest):
    """Every annotation of a manifest with its canvas."""
    for canvas in manifest["items"]:
        for page in (*canvas["items"], *canvas.get("annotations", ())):
            for annotation in page["items"]:
                yield canvas, annotation


def what_validators_miss(manifest):
    """What the published schema lets through: sheet of standards, section 4."""
    # 1. the context (section 4.6 of Presentation 3.0)
    assert manifest["@context"] == "http://iiif.io/api/presentation/3/context.json"
    canvases = {canvas["id"]: canvas for canvas in manifest["items"]}
    for canvas in canvases:
        assert "#" not in canvas  # section 5.3: no fragment in the address of a canvas
    ids = [
        each["id"]
        for each in every_node(manifest)
        if each.keys() - {"id", "type"} and "id" in each
    ]
    assert len(ids) == len(set(ids))
    for canvas, annotation in annotations(manifest):
        # 2. a target, and it is this canvas
        target = annotation["target"]
        # 4. a motivation that the two standards know
        assert annotation["motivation"] in ("painting", "supplementing", "commenting")
        # 3. a selector that says something, within the canvas
        if isinstance(target, str):
            where, _, fragment = target.partition("#")
            assert where == canvas["id"]
            if fragment:
                within(fragment, canvas)
            continue
        assert target["source"]["id"] == canvas["id"]
        assert target["selector"]["type"] == "SvgSelector"
        drawing = etree.fromstring(target["selector"]["value"])
        # W3C Web Annotation 4.2.5 and IIIF: no style, no transform
        (polygon,) = drawing
        assert drawing.tag == "{http://www.w3.org/2000/svg}svg"
        assert not drawing.attrib
        assert set(polygon.attrib) == {"points"}
        for point in polygon.get("points").split():
            x, y = map(float, point.split(","))
            assert 0 <= x <= canvas["width"]
            assert 0 <= y <= canvas["height"]
    for structure in manifest["structures"]:
        assert {each["id"] for each in structure["items"]} <= canvases.keys()
    assert manifest.get("rights", "http://creativecommons.org/").startswith("http://")


def within(fragment, canvas):
    """A media fragment in whole pixels (Media Fragments URI 1.0, 4.2.2) that lies on the canvas."""
    found = re.fullmatch(r"xywh=(\d+),(\d+),(\d+),(\d+)", fragment)
    assert found, fragment
    x, y, width, height = map(int, found.groups())
    assert width >= 1
    assert height >= 1
    assert x + width <= canvas["width"]
    assert y + height <= canvas["height"]


def every_node(node):
    if isinstance(node, dict):
        yield node
        for held in node.values():
            yield from every_node(held)
    elif isinstance(node, list):
        for held in node:
            yield from every_node(held)


@pytest.mark.parametrize("base", [None, BASE])
@pytest.mark.parametrize("profile", PROFILES)
@pytest.mark.parametrize("work", sample_works(), ids=lambda work: work.number)
def test_every_sample_is_a_manifest_that_another_reader_takes(work, profile, base):
    made = files(write, work, profile, base)
    if not work.photos:
        assert made == {}
        return
    manifest = manifest_of(made)
    iiif_prezi3.Manifest(**manifest)
    what_validators_miss(manifest)


def broken(change):
    manifest = manifest_of(files(write, SMALL))
    change(manifest)
    return manifest


@pytest.mark.parametrize(
    "change",
    [
        lambda m: m.update({"@context": "http://www.w3.org/ns/anno.jsonld"}),
        lambda m: m["items"][0].update(id=m["items"][0]["id"] + "#x"),
        lambda m: m["items"][0]["annotations"][0]["items"][0].update(motivation="musing"),
        lambda m: m["items"][0]["annotations"][0]["items"][0].update(
            target="urn:x#xywh=1,1,2,2"
        ),
        lambda m: m["items"][0]["annotations"][0]["items"][0].update(
            target=m["items"][0]["id"] + "#xywh=290,1,20,2"
        ),
        lambda m: m.update(rights="https://creativecommons.org/licenses/by/4.0/"),
    ],
)
def test_the_assertions_can_fail(change):
    with pytest.raises(AssertionError):
        what_validators_miss(broken(change))


@pytest.mark.parametrize(
    "change",
    [
        lambda m: m.pop("label"),
        lambda m: m["items"][0].update(type="Canvass"),
        lambda m: m["items"][0]["items"][0]["items"][0]["body"].update(id="no address"),
    ],
)
def test_the_second_reader_can_refuse(change):
    with pytest.raises(ValueError, match="validation error"):
        iiif_prezi3.Manifest(**broken(change))


@pytest.mark.parametrize("work", sample_works(), ids=lambda work: work.number)
def test_every_region_is_told_at_its_place(work):
    if not work.photos:
        return
    manifest = manifest_of(files(write, work))
    told = {annotation["id"] for _, annotation in annotations(manifest)}
    regions = [region for each in work.inscriptions for region in each.regions]
    assert {f"urn:uuid:{region.id}#annotation" for region in regions} <= told
    assert [canvas["id"] for canvas in manifest["items"]] == [
        f"urn:uuid:{photo.id}" for photo in work.photos
    ]


def test_a_small_work_is_told_like_this():
    manifest = manifest_of(files(write, SMALL, base="https://backs.example"))
    own = f"https://backs.example/work/{UUID(1)}"
    canvas = f"{own}/canvas/{UUID(2)}"
    assert manifest["id"] == f"https://backs.example/work-{UUID(1)}.manifest.jsonld"
    assert manifest["label"] == {"fr": ["2026-041, Marée basse"]}
    (only,) = manifest["items"]
    assert (only["id"], only["width"], only["height"]) == (canvas, 300, 200)
    assert only["label"] == {"en": ["P1, back"]}
    box, glued_askew, stamp = only["annotations"][0]["items"]
    assert box == {
        "id": f"{own}#{UUID(4)}/annotation",
        "type": "Annotation",
        "label": {"en": ["label, I1"]},
        "motivation": "supplementing",
        "body": {
            "id": f"{own}#{UUID(4)}/annotation/text",
            "type": "TextualBody",
            "value": "Gal. Ho□□□nn\nLot 3",
            "format": "text/plain",
            "language": "en",
        },
        "target": f"{canvas}#xywh=10,20,50,30",
    }
    assert glued_askew["target"]["selector"]["value"] == (
        '<svg xmlns="http://www.w3.org/2000/svg"><polygon points="10,20 60,25 58,50 8,45"/></svg>'
    )
    assert stamp["motivation"] == "commenting"
    assert stamp["body"]["value"] == "stamp: crown over shield"
    assert "language" not in stamp["body"]
    assert manifest["structures"] == [
        {
            "id": f"{own}#{UUID(1)}/side-back",
            "type": "Range",
            "label": {"en": ["Back"]},
            "items": [{"id": canvas, "type": "Canvas"}],
        }
    ]
    assert manifest["seeAlso"][0]["id"] == own


def test_pictures_are_written_beside_the_manifest_and_named_by_it(tmp_path):
    path = tmp_path / "copy.jpg"
    Image.new("RGB", (150, 100), "linen").save(path)
    made = files(write, SMALL, base=BASE, picture=lambda _: path)
    (name,) = [name for name in made if name.endswith(".jpg")]
    assert name == f"work-{UUID(1)}-{UUID(2)}.jpg"
    body = manifest_of(made)["items"][0]["items"][0]["items"][0]["body"]
    assert body["id"] == BASE + name
    with Image.open(io.BytesIO(made[name])) as shown:
        assert (body["width"], body["height"]) == shown.size == (150, 100)
    # section 5.3: the canvas has the size of the original, and the shape of the picture is the same
    assert manifest_of(made)["items"][0]["width"] == 300


def test_without_a_picture_or_a_base_the_digest_names_it(tmp_path):
    body = manifest_of(files(write, SMALL))["items"][0]["items"][0]["items"][0]["body"]
    assert body["id"].startswith("ni:///sha-256;q6urq")
    path = tmp_path / "copy.jpg"
    Image.new("RGB", (15, 10)).save(path)
    made = files(write, SMALL, picture=lambda _: path)
    body = manifest_of(made)["items"][0]["items"][0]["items"][0]["body"]
    assert body["id"].startswith("ni:///sha-256;")
    assert body["label"]["none"][0] in made


def test_who_keeps_the_record_is_said_where_the_sender_has_a_name():
    manifest = manifest_of(files(write, SMALL, base=BASE, studio="Studio at the Quay"))
    assert manifest["requiredStatement"]["value"] == {"none": ["Studio at the Quay"]}
    assert manifest["provider"][0] == {
        "id": BASE,
        "type": "Agent",
        "label": {"none": ["Studio at the Quay"]},
    }
    iiif_prezi3.Manifest(**manifest)
    assert "provider" not in manifest_of(files(write, SMALL, base=BASE))


def test_a_text_that_looks_like_html_is_no_html():
    # section 4.5: what begins with < and ends with > is taken for HTML
    told = iiif_words.told("<script>alert()</script>")
    assert told == "<span>&lt;script&gt;alert()&lt;/script&gt;</span>"
    assert iiif_words.told("a < b") == "a < b"


@pytest.mark.parametrize("profile", ["public", "sale", "loan"])
def test_no_planted_secret_leaves(profile):
    work = full_work()
    said = b"".join(files(write, work, profile).values()).decode()
    assert said
    assert not {secret for secret in SECRETS if secret in said}


def test_unreleased_words_and_what_was_seen_stay_home():
    check = ConditionCheck(
        id=UUID("a"), occasion="occasion/incoming", on=Day(2026, 3, 2), by=f"party/{UUID(1)}"
    )
    finding = Finding(
        id=UUID("b"),
        number="F1",
        layer="layer/support",
        kind="damage/tear",
        observations=(Observation(check=check.id),),
    )
    work = replace(
        SMALL,
        notes=(Note(text="Bought from a cellar."),),
        checks=(check,),
        findings=(finding,),
        photos=(replace(SMALL.photos[0], about=(finding.id,)),),
    )

    def said(profile):
        return b"".join(files(write, work, profile).values()).decode()

    assert "Bought from a cellar." in said("full")
    assert "F1: tear" in said("full")
    assert "F1: tear" in said("owner")
    assert "tear" not in said("public")
    for profile in ("public", "sale"):
        assert "cellar" not in said(profile)
        assert "Hofmann" not in said(profile)
        assert "Lot 3" in said(profile)


def test_the_same_work_is_the_same_bytes():
    assert files(write, SMALL, base=BASE) == files(write, deepcopy(SMALL), base=BASE)


def test_nothing_is_made_of_a_work_without_photographs_or_of_anything_else():
    assert files(write, Work(id=UUID(1))) == {}


@pytest.mark.parametrize("address", ["https://creativecommons.org/licenses/by/4.0/", "CC BY"])
def test_a_licence_that_iiif_does_not_take_is_refused_in_words(address):
    with pytest.raises(BadSetting, match="no licence that IIIF takes"):
        iiif.licence(address)
