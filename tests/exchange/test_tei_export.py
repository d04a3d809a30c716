"""Works as TEI: every sample valid EpiDoc, redacted like every other format, and read back."""

import random
import re

import pytest
from epidoc_schema import epidoc, needs_schema, what_the_schema_misses
from lxml import etree
from made_records import full_work
from redacting import redact
from test_redaction import SECRETS

from catalogue.exchange.outgoing import Leaving, Sender
from catalogue.exchange.sending import UNNAMED
from catalogue.exchange.tei.writing import write
from catalogue.exchange.withholding.redaction import profile
from catalogue.linked.documents import from_jsonld, to_jsonld
from catalogue.linked.text import parse
from catalogue.measure import Day
from catalogue.places import folder
from catalogue.reading import read, read_tei
from catalogue.record import Inscription, Transcript, Work
from catalogue.studio import Studio

WORKS = sorted((folder("sample_records") / "works").glob("*.json"))
HEADER = "teiHeader"


def work_of(path):
    return from_jsonld(parse(path.read_bytes()))


@pytest.fixture(scope="module")
def samples():
    with Studio.open("memory:") as studio:
        records = folder("sample_records")
        list(
            studio.import_([records / "parties", records / "works", records / "jobs"], who="x")
        )
        yield studio


@pytest.fixture(scope="module")
def exported(samples, tmp_path_factory):
    """The files of each profile by name."""

    def files(profile):
        out = tmp_path_factory.mktemp(profile)
        samples.export("tei", profile, out)
        return {path.name: path.read_bytes() for path in out.iterdir()}

    return {profile: files(profile) for profile in ("public", "owner", "full")}


@needs_schema
@pytest.mark.parametrize("profile", ["public", "owner", "full"])
def test_every_sample_is_valid_epidoc(exported, profile):
    schema = epidoc()
    assert len(exported[profile]) > 80
    for name, content in exported[profile].items():
        root = etree.fromstring(content)
        assert schema.validate(root), f"{name}: {schema.error_log.last_error}"
        what_the_schema_misses(root)


@pytest.mark.parametrize("path", WORKS, ids=lambda path: path.stem)
def test_each_reading_of_the_full_profile_comes_back(exported, path):
    work = work_of(path)
    for inscription in work.inscriptions:
        transcript = inscription.preferred()
        name = f"work-{work.id}-{inscription.id}.xml"
        if transcript is None:
            assert name not in exported["full"]
            continue
        found = read_tei(exported["full"][name])
        (text,) = found.texts
        # several spaces are one in XML, as they are in every rendering
        assert text.reading.tei() == re.sub(" +", " ", read(transcript.markup).tei())
        assert text.reading.hands() == read(transcript.markup).hands()
        assert [zone.corners for zone in text.zones] == [
            region.corners
            for photo in dict.fromkeys(region.photo for region in inscription.regions)
            for region in inscription.regions
            if region.photo == photo
        ]
        assert {remark.element for remark in found.remarks} <= {HEADER, "div"}


# Signs of the markup in every mixture; what goes wrong in one stays as letters.
PIECES = (
    "Lot 3", "Gal.(erie)", "Ho[...]nn", "[[412]]<<421>>", "@h ", "@s ", "+(2-3)", "a_b", "[abc?]",
    "<x=y>", "{{crown}}", "~fr:nature~", "*Wien*", "M^rs^", "(vac.)", "[2 lines]", "/* note */",
    "\\added/", "|", "||", "Stk((Stück))", "ab(---)", "{17}", "&", "<", ">", '"', "]]", "\n", "№ 7",
)  # fmt: skip


def made_works(count):
    """Works with two to five inscriptions, their labels put together from every sign."""
    chance = random.Random(11)
    kinds = ("label", "stamp", "signature", "chalk-mark")
    for _ in range(count):
        yield Work(
            inscriptions=tuple(
                Inscription(
                    kind=f"inscription/{chance.choice(kinds)}",
                    face=chance.choice(("face/back", "face/front", "face/lining")),
                    languages=tuple(chance.sample(("en", "de", "fr"), chance.randint(0, 2))),
                    orientation=chance.choice((0, 0, 90, 181)),
                    hand=chance.choice((None, "<the framer> & son")),
                    transcripts=(
                        Transcript(
                            markup=" ".join(chance.choices(PIECES, k=chance.randint(1, 9))),
                            on=chance.choice((None, Day(2026, 3, 2))),
                        ),
                    ),
                )
                for _ in range(chance.randint(2, 5))
            )
        )


def test_no_file_is_made_of_a_party_or_a_job(exported):
    for files in exported.values():
        assert all(name.startswith("work-") and name.endswith(".xml") for name in files)


def test_names_and_papers_stay_home_under_the_public_profile(samples, exported):
    parties = [
        from_jsonld(parse(path.read_bytes()))
        for path in (folder("sample_records") / "parties").glob("*.json")
    ]
    readers = {
        transcript.by
        for path in WORKS
        for inscription in work_of(path).inscriptions
        for transcript in inscription.transcripts
    }
    names = {
        name.text for party in parties if party.document in readers for name in party.names
    }
    assert names
    public = b"".join(exported["public"].values()).decode()
    assert not {name for name in names if f"<name>{name}" in public}
    assert "-back.jpg" not in public  # a file name can say more than it should
    owner = b"".join(exported["owner"].values()).decode()
    assert any(f"<name>{name}</name>" in owner for name in names)


def test_no_planted_secret_leaves_for_anybody():
    work = full_work()
    told = to_jsonld(work)
    kept, _ = redact(told, work.document, profile("public"), lambda _: False)
    sender = Sender(None, lambda _: ("Person", UNNAMED))
    files = dict(write(Leaving(work.document, "work", kept), sender))
    assert files
    said = b"".join(files.values()).decode()
    assert not {secret for secret in SECRETS if secret in said}
    whole = dict(write(Leaving(work.document, "work", told), sender))
    assert {secret for secret in SECRETS if secret in b"".join(whole.values()).decode()}


def test_the_same_studio_sends_the_same_bytes(samples, exported, tmp_path):
    samples.export("tei", "public", tmp_path)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == exported["public"]


def test_a_base_is_the_address_of_each_text():
    work = full_work()
    sender = Sender("https://backs.example", lambda _: ("Person", UNNAMED))
    for content in dict(
        write(Leaving(work.document, "work", to_jsonld(work)), sender)
    ).values():
        found = etree.fromstring(content).find(".//{*}idno[@type='URI']").text
        base, _, own = found.partition("#")
        assert base == f"https://backs.example/{work.document}"
        assert own in {inscription.id for inscription in work.inscriptions}


@needs_schema
def test_hundreds_of_works_made_at_will_are_valid_epidoc():
    """Five hundred made works, whatever their labels hold: at least a thousand texts."""
    schema, texts = epidoc(), 0
    sender = Sender(None, lambda _: ("Person", UNNAMED))
    for record in made_works(500):
        document = to_jsonld(record)
        for name, content in write(Leaving(record.document, "work", document), sender):
            root = etree.fromstring(content)
            assert schema.validate(root), f"{name}: {schema.error_log.last_error}"
            what_the_schema_misses(root)
            texts += 1
    assert texts > 1000
