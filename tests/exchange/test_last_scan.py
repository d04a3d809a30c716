"""The last scan of finished files (trade sheet C22): what is found, however it is written, and what is not."""

from __future__ import annotations

import json
import zipfile
from io import BytesIO

import openpyxl
import pytest
from made_records import ARTIST, CLIENT, full_job, full_work
from PIL import Image

from catalogue.exchange.scanning.guarded import Guarded, Leaving, Secret, gathered
from catalogue.exchange.scanning.last_scan import LastScan
from catalogue.exchange.scanning.secrets_in import in_commission, in_party
from catalogue.exchange.scanning.texts_of_files import PIECE
from catalogue.exchange.withholding.redaction import profile
from catalogue.linked.documents import to_jsonld
from catalogue.linked.text import write

QUILLAN = Secret("name", "Mrs Quillan", "job/1")


def scanned(name, content, *secrets):
    guarded = Guarded()
    for each in secrets:
        guarded.add(each)
    scan = LastScan(guarded)
    scan.look(name, content)
    return scan.hits


WAYS = {
    "as it is": ("a.ttl", b'"sold to Mrs Quillan"'),
    "in capitals": ("a.csv", b"MRS QUILLAN,2026"),
    "in another order": ("a.csv", b'"Quillan, Mrs"'),
    "over a line end": ("a.html", b"<p>Mrs\n   Quillan</p>"),
    "over an escaped line end": ("a.json", json.dumps({"a": "Mrs\nQuillan"}).encode()),
    "over an element": ("a.xml", b"<p>Mrs <lb/>Quillan</p>"),
    "with an element within": ("a.xml", b"<p>Mrs Quil<unclear>l</unclear>an</p>"),
    "broken at a line": ("a.xml", b'<p>Mrs Quil-<lb break="no"/>lan</p>'.replace(b"-", b"")),
    "with a hard space": ("a.json", b'{"a": "Mrs\\u00a0Quillan"}'),
    "with a hard space in XML": ("a.xml", b"<p>Mrs&#160;Quillan</p>"),
    "in an attribute": ("a.xml", b'<p n="Mrs Quillan"/>'),
    "in an address": ("a.html", b'<a href="x?q=Mrs%20Quillan">x</a>'),
    "in the name of the file": ("photos/mrs-quillan-back.jpg", b""),
    "in letters written by number": ("a.nq", b'"Mrs \\u0051uillan"'),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_name_is_found_however_it_is_written(way):
    assert [hit.secret for hit in scanned(*WAYS[way], QUILLAN)] == [QUILLAN]


@pytest.mark.parametrize(
    "text", ["Mrs Quillane", "Mrs and Quillan", "Quillan", "mrsquillan", "Mrs Quill an"]
)
def test_only_the_whole_name_is_a_name(text):
    assert not scanned("a.csv", text.encode(), QUILLAN)


@pytest.mark.parametrize(
    "written", ["Müller & Söhne", "MÜLLER & SÖHNE", "Mu\u0308ller & So\u0308hne"]
)
@pytest.mark.parametrize("form", ["json", "ascii", "xml"])
def test_letters_with_marks_are_the_same_letters(written, form):
    text = {
        "json": json.dumps(written, ensure_ascii=False).encode(),
        "ascii": json.dumps(written).encode(),
        "xml": written.replace("&", "&amp;").encode("ascii", "xmlcharrefreplace"),
    }[form]
    ending = "xml" if form == "xml" else "json"
    assert scanned(f"a.{ending}", text, Secret("name", "Müller & Söhne", "job/1"))


@pytest.mark.parametrize("written", ["Иван Петров", "Петров, Иван", "ИВАН\nПЕТРОВ"])
def test_names_in_other_scripts_are_found(written):
    assert scanned(
        "a.json", json.dumps(written).encode(), Secret("name", "Иван Петров", "job/1")
    )
    assert not scanned(
        "a.json", '"Иван Петровский"'.encode(), Secret("name", "Иван Петров", "j")
    )


def test_a_code_with_one_plain_letter_is_not_found_by_that_letter():
    assert not scanned(
        "a.json", b'"f"', Secret("place", "\u00c9#\u00a3f\u4e2d 12\u00fb", "job/1")
    )


def test_a_name_of_one_word_is_found_where_it_begins_as_a_name_does():
    white = Secret("name", "Whitelaw", "job/1")
    assert scanned("a.csv", b"from Whitelaw", white)
    assert scanned("a.csv", b"from WHITELAW", white)
    assert not scanned("a.csv", b"the whitelaw paper", white)
    assert not scanned("a.csv", b"from Lo", Secret("name", "Lo", "job/1"))


@pytest.mark.parametrize(
    "text",
    [
        "01326 555 0142", "01326-5550142", "+44 1326 5550142", "(01326) 555 0142", "013265550142",
        "tel. 01326.555.0142 after six", "0044 1326 555 01 42",
    ],
)  # fmt: skip
def test_a_telephone_number_is_found_however_it_is_grouped(text):
    phone = Secret("number", "01326 555 0142", "party/1")
    assert scanned("a.csv", f'"{text}"'.encode(), phone)


@pytest.mark.parametrize(
    "text",
    [
        "urn:uuid:01326555-0142-4555-8014-213265550142",
        "sha256:ab013265550142cd",
        "01326 555 0143",
        "2026-03-01",
    ],
)
def test_digits_of_identifiers_and_days_are_no_telephone_numbers(text):
    assert not scanned(
        "a.json", json.dumps(text).encode(), Secret("number", "01326 555 0142", "p")
    )


@pytest.mark.parametrize(
    ("sum_", "text"),
    [
        ("12500", "12,500"), ("12500", "12.500"), ("12500", "12,500.00"), ("12500", "12500.00"),
        ("125000", "125000"), ("125000", "EUR 125 000"), ("2400", "2,400.00"), ("1900.5", "1900.50"),
        ("1900.5", '{"a":1900.5}'),
    ],
)  # fmt: skip
def test_a_sum_is_found_however_it_is_grouped(sum_, text):
    assert scanned("a.json", f'["{text}"]'.encode(), Secret("sum", sum_, "job/1"))


@pytest.mark.parametrize(
    "text", ["xywh=12,500,80,30", "12 500", "POINT(12 500)", "12500", "1912,500"]
)
def test_measures_and_regions_are_no_sums(text):
    assert not scanned("a.json", f'["{text}"]'.encode(), Secret("sum", "12500", "job/1"))


def test_it_looks_into_what_is_packed_and_into_the_heads_of_pictures(tmp_path):
    sheet = openpyxl.Workbook()
    sheet.active["B2"] = "for Mrs Quillan"
    inner = BytesIO()
    sheet.save(inner)
    parcel = BytesIO()
    with zipfile.ZipFile(parcel, "w", zipfile.ZIP_DEFLATED) as pack:
        pack.writestr("data/works.xlsx", inner.getvalue())
        picture = BytesIO()
        exif = Image.Exif()
        exif[0x010E] = "Mrs Quillan at home"
        Image.new("RGB", (8, 8)).save(picture, "jpeg", exif=exif)
        pack.writestr("data/back.jpg", picture.getvalue())
        pack.writestr("data/clean.xml", "<p>nobody</p>")
    told = {hit.file for hit in scanned("a.zip", parcel.getvalue(), QUILLAN)}
    assert {each.partition(" › ")[2].partition(" › ")[0] for each in told} == {
        "data/works.xlsx",
        "data/back.jpg",
    }


def test_a_long_file_is_read_piece_by_piece_and_nothing_is_cut_in_two(tmp_path):
    path = tmp_path / "long.nq"
    for place in (PIECE - 15, PIECE - 5, PIECE, 5 * PIECE - 8):
        path.write_bytes(b"x" * place + b' "Mrs Quillan" ' + b"\n" * (6 * PIECE - place))
        assert scanned("long.nq", path, QUILLAN), place


def test_a_hit_says_where_it_is_and_what_stands_around():
    (hit,) = scanned(
        "w.json", b'{"carries": [{"content": "Bought for Mrs Quillan, 1903"}]}', QUILLAN
    )
    assert (hit.file, hit.where) == ("w.json", "/carries/0/content")
    assert "Bought for Mrs Quillan, 1903" in hit.around
    (hit,) = scanned("w.xml", b"<a>\n<b>\nMrs Quillan</b></a>", QUILLAN)
    assert hit.where == "line 3"


# --- what is gathered -----------------------------------------------------------------------------


def made(name, chosen=None):
    allowed = profile(name)
    work = full_work()
    job = full_job(work)
    bodies = [(each.document, write(to_jsonld(each))) for each in (job, ARTIST, CLIENT)]
    return gathered(
        [(of, in_commission(of, body)) for of, body in bodies[:1]],
        [(of, in_party(of, body)) for of, body in bodies[1:]],
        Leaving(name, allowed.fields, allowed.visibility, chosen, rules=allowed.rules),
    )


def said(job, document):
    return job, in_commission(job, json.dumps(document).encode())


def finds(guarded, text):
    scan = LastScan(guarded)
    scan.look("a.csv", text.encode())
    return scan.hits


SECRETS = ["Mrs Quillan", "quillan@post.example", "rack 3", "1,900.50", "1,800.00"]


@pytest.mark.parametrize("name", ["public", "sale", "loan"])
@pytest.mark.parametrize("secret", SECRETS)
def test_what_stands_in_a_commission_and_in_contacts_is_looked_for(name, secret):
    if (name, secret) == ("loan", "rack 3") and not finds(made(name), secret):
        pytest.skip("a loan lists where the work is kept")
    assert finds(made(name), f'"{secret}"')


def test_the_price_asked_is_a_secret_wherever_no_offer_leaves():
    assert finds(made("public"), '"2,400.00"')
    assert not finds(made("sale"), '"2,400.00"')


def test_who_is_known_by_their_works_is_no_secret_though_they_brought_a_painting():
    assert not finds(made("public"), "Ada Penhale")


def test_an_owner_knows_their_own_name_and_no_sum():
    assert not finds(made("owner"), "Mrs Quillan")
    assert finds(made("owner"), '"1,900.50"')


def test_days_years_and_own_numbers_in_sentences_are_no_secrets():
    texts = "Order of 2026-03-09 for 2026-041, bag 2026-041/B1, bought 1903-1911, tel. 01326 555 0142"
    found = gathered(
        [said("job/1", {"referred_to_by": [{"content": texts}]})],
        (),
        Leaving("public", frozenset(), frozenset(), None),
    )
    assert [
        each.text.strip() for each in (*found.numbers.values(), *found.endings.values())
    ] == ["01326 555 0142"]


def test_where_a_planned_step_is_to_be_done_is_no_telephone_number():
    drawn = "POLYGON ((96 424, 376 424, 376 500, 96 500, 96 424))"
    step = {
        "took_place_at": [{"defined_by": drawn}],
        "referred_to_by": [{"content": "Tel. 376 424"}],
    }
    found = gathered(
        [said("job/1", {"part": [step]})],
        (),
        Leaving("loan", frozenset(), frozenset(), None),
    )
    assert [each.text.strip() for each in found.numbers.values()] == ["376 424"]
    assert not finds(found, f'"{drawn.replace("376 424", "377 424")}"')


def test_a_price_asked_that_is_told_hides_no_reserve_of_the_same_sum():
    held = {"price_asked": 1800, "price_reserve": 1800}
    told = Leaving("sale", frozenset({"Offer.asked"}), frozenset(), None)
    assert finds(gathered([said("job/1", held)], (), told), '"1,800.00"')
    del held["price_reserve"]
    assert not finds(gathered([said("job/1", held)], (), told), '"1,800.00"')


def test_one_gathering_serves_many_and_what_one_adds_the_others_do_not_look_for():
    shared = made("public")
    mine = shared.apart()
    mine.add(Secret("path", "/tmp/a-place-of-mine/", "this computer"))
    assert finds(mine, '"/tmp/a-place-of-mine/x"')
    assert not finds(shared, '"/tmp/a-place-of-mine/x"')
    assert len(mine) == len(shared) + 1
