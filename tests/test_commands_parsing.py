"""`dorse parse`: a filter that answers every line, whatever the line is."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from click.testing import CliRunner
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.command import main
from catalogue.parsing import (
    answers,
    date,
    inscriptions,
    label,
    money,
    names,
    provenance,
    sizes,
)
from catalogue.reading import SIGNS, read, write

KEYS = {
    # the table of the design: beside text and rest
    "labels": {"diplomatic", "plain", "seen", "words", "tei", "tree", "statements", "dating", "errors"},
    "dates": {"edtf", "earliest", "latest", "rule", "why"},
    "sizes": {"sizes"},
    "names": {"qualifier", "family", "given", "honorifics", "life", "kind"},
    "money": {"amounts"},
    "inscriptions": {"items"},
    "provenance": {"events", "notes", "brackets", "warnings"},
}  # fmt: skip
READERS = {
    "labels": label,
    "dates": date,
    "sizes": sizes,
    "money": money,
    "names": names,
    "inscriptions": inscriptions,
    "provenance": provenance,
}
UGLY = "@p PRICE [--- :torn]|@h2(pencil) Gal.(erie) [[412]]<<421>> Sm[ith"


def parsed(kind, given, *options):
    done = CliRunner().invoke(main, ["parse", kind, *options], input=given)
    assert done.exit_code == 0, done.output
    return [json.loads(line) for line in done.stdout_bytes.decode("utf-8").split("\n")[:-1]]


@pytest.mark.parametrize("kind", KEYS)
def test_every_answer_has_the_keys_of_its_kind(kind):
    for text in ("", "Low Tide, 1903, 24 x 20 in.", UGLY):
        (answer,) = parsed(kind, text + "\n")
        assert set(answer) == {"text", "rest"} | KEYS[kind]
        assert answer["text"] == text


def test_a_label_is_told_as_its_reading_tells_it():
    (answer,) = parsed("labels", UGLY + "\n")
    reading = read(UGLY)
    assert answer["diplomatic"] == reading.diplomatic()
    assert answer["plain"] == reading.plain()
    assert answer["seen"] == "PRICE …\nGal. 412 421 Sm[ith"
    assert answer["tei"] == reading.tei()
    assert [word["text"] for word in answer["words"]] == [word.text for word in reading.words()]
    assert answer["tree"] == reading.outline()
    assert answer["statements"] == []
    assert answer["rest"] == "["
    (error,) = answer["errors"]
    assert (UGLY[error["at"]], error["sign"]) == ("[", "[")
    assert error["message"] == "this '[' has no partner: kept as a letter"


def test_a_label_says_what_its_seen_letters_say_and_where():
    said = "@p Lot @h 3_8, £[12] 12 gns|[Lot 39]"
    (answer,) = parsed("labels", said + "\n")
    lot, price = answer["statements"]
    assert (lot["kind"], lot["written"], lot["value"]) == ("number", "Lot 38", "38")
    assert said[lot["start"] : lot["end"]] == "Lot @h 3_8"
    assert (lot["doubtful"], lot["struck"], lot["doubt"]) == (True, False, None)
    assert (price["kind"], price["value"]) == ("money", "12.6 GBP")
    assert price["doubt"] == "a lost part stands beside it"


def test_a_label_is_dated_with_its_reasons_and_what_contradicts():
    said = "14 Tanner Street, London, W.1 | Deutsches Reich | GmbH & Co., 80333 München"
    (answer,) = parsed("labels", said + "\n")
    dating = answer["dating"]
    assert {"earliest", "latest", "reasons", "conflicts"} <= set(dating)
    assert dating["earliest"] is dating["latest"] is None, "contradicted"
    by_rule = {each["rule"]: each for each in dating["reasons"]}
    london = by_rule["gb.post.london_numbered"]
    assert (london["earliest"], london["latest"], london["strength"]) == (
        "1917-03-01",
        None,
        "hard",
    )
    assert said[london["start"] : london["end"]] == london["written"] == "London, W.1"
    assert london["why"]
    assert london["source"]
    (clash,) = (each for each in dating["conflicts"] if each["firm"])
    assert (clash["first"], clash["second"]) == ("de.name.reich", "de.post.5digit")
    assert "'Deutsches Reich' cannot be later than 1947-05-08" in clash["words"]


def test_a_label_that_is_none_has_no_date():
    (answer,) = parsed("labels", "not JSON\n", "--jsonl")
    assert answer["dating"]["reasons"] == []
    assert label("x" * 1_000_001)["dating"] is None


def test_a_bar_is_a_line_end_and_json_lines_may_hold_real_ones():
    (plain,) = parsed("labels", "Lot 12|Low Tide\n")
    (real,) = parsed("labels", json.dumps({"text": "Lot 12\nLow Tide"}) + "\n", "--jsonl")
    assert plain["diplomatic"] == real["diplomatic"] == "Lot 12\nLow Tide"
    assert real["text"] == "Lot 12\nLow Tide"
    (backslash,) = parsed("labels", "Lot\\next\n")
    assert backslash["seen"] == "Lot\\next"


def test_dates_keep_an_open_end_open_and_say_why_there_is_none():
    before, never = parsed("dates", "before 1907\n31 February 1900\n")
    assert (before["earliest"], before["latest"], before["rest"]) == (None, "1906-12-31", "")
    assert (never["edtf"], never["rest"]) == (None, "31 February 1900")
    assert never["why"] == "there is no day 1900-02-31"
    (wide,) = parsed("dates", "c. 1900\n", "--circa", "10")
    assert (wide["earliest"], wide["latest"]) == ("1890-01-01", "1910-12-31")


def test_dates_keep_what_was_not_understood_beside_a_date_that_is_beyond_doubt():
    beside, refused, undated = parsed("dates", "1887 (relined by somebody)\nnot 1887\no.J.\n")
    assert (beside["edtf"], beside["rest"]) == ("1887", " (relined by somebody)")
    assert beside["rule"] == "year; words beside it are not understood"
    assert (refused["edtf"], refused["rest"]) == (None, "not 1887")
    assert refused["why"] == "what 'not' says of the date is not understood"
    # every letter is understood: it says that there is no date
    assert (undated["edtf"], undated["rest"], undated["rule"]) == (None, "", "no date")
    assert undated["why"] == "it says that it has no date"


def test_sizes_say_what_was_measured_and_leave_the_words_that_were_not_understood():
    (answer,) = parsed("sizes", "oil, 24 x 20 in.; framed 30 x 26 in.\n")
    first, framed = answer["sizes"]
    # 1 in = 25.4 mm exactly (international yard and pound agreement, 1959)
    assert (first["height_mm"], first["width_mm"], first["what"]) == (609.6, 508.0, None)
    assert (framed["what"], framed["written"]) == ("framed", "30 x 26 in.")
    assert (first["within_mm"], first["canvas"], first["doubt"]) == (12.7, [], None)
    assert answer["rest"] == "oil, "
    # 24 x 20 in. is a head, and 12 F within a centimetre (the tables of vocab/canvas_sizes.toml)
    assert [each["name"] for each in first["fits"]] == ["head", "12F"]
    assert framed["fits"] == []


def test_money_has_its_sum_as_a_number_and_its_years_as_days():
    (answer,) = parsed("money", "sold for 12 gns, not for £31.10\n")
    guineas, pounds = answer["amounts"]
    # a guinea is 21 shillings (arithmetic); sterling went decimal on 15 February 1971
    assert (guineas["written"], guineas["currency"], guineas["value"]) == (
        "12 gns",
        "GBP",
        12.6,
    )
    assert (guineas["not_before"], guineas["not_after"]) == ("1717-12-22", "1971-02-14")
    assert [each["value"] for each in pounds["readings"]] == [31.1, 31.5]
    assert (pounds["not_before"], pounds["not_after"]) == (None, None)
    assert answer["rest"] == "sold for , not for "


def test_names_are_taken_apart():
    person, firm = parsed("names", "Follower of Penhale, Ada\nTrewin & Sons Ltd, Bath\n")
    assert (person["qualifier"], person["family"], person["given"]) == (
        "Follower of",
        "Penhale",
        "Ada",
    )
    assert (firm["kind"], firm["family"], firm["rest"]) == ("firm", "Trewin & Sons Ltd", "Bath")


OF_A_MARK = {
    # the table of the design, and what else is told
    "kind", "face", "place", "part", "technique", "text", "lines", "markup", "years", "start", "end",
    "short_years", "remark",
}  # fmt: skip


def test_a_field_of_inscriptions_is_split_into_marks():
    text = "signed l.r., in red paint: A. Wynne / 87\nverso, on label: Low Tide; unsigned"
    (answer,) = parsed("inscriptions", json.dumps({"text": text}) + "\n", "--jsonl")
    signed, label_ = answer["items"]
    assert set(signed) == set(label_) == OF_A_MARK
    assert (signed["kind"], signed["place"], signed["technique"]) == (
        "signature",
        "lower right",
        "red paint",
    )
    assert (signed["lines"], signed["years"], signed["short_years"]) == (
        ["A. Wynne", "87"],
        [],
        [87],
    )
    assert (label_["kind"], label_["face"], label_["text"]) == ("label", "back", "Low Tide")
    assert text[label_["start"] : label_["end"]] == "verso, on label: Low Tide"
    assert answer["rest"] == "unsigned"


OF_A_STEP = {  # the table of the design, and what found no place
    "text", "start", "end", "kind", "parties", "place", "edtf", "earliest", "latest", "lot", "price",
    "stock_number", "certainty", "direct_to_next", "notes", "remark", "remainder",
}  # fmt: skip


def test_a_provenance_is_split_into_steps_and_notes():
    text = "Probably Ada Penhale [1860-1934], Hull, by 1902;[1] (sale, Holm & Sons, Ghent, 3 May 1910, lot 4)."
    given = json.dumps({"text": text + "\nNotes: 1. Letter."}) + "\n"
    (answer,) = parsed("provenance", given, "--jsonl")
    held, sold = answer["events"]
    assert set(held) == set(sold) == OF_A_STEP
    assert held["parties"] == [
        {
            "name": "Ada Penhale",
            "role": "owner",
            "life": "1860-1934",
            "place": "Hull",
            "relation": None,
        }
    ]
    assert (held["certainty"], held["latest"], held["notes"]) == (
        "probably",
        "1902-12-31",
        ["1"],
    )
    assert (held["direct_to_next"], sold["direct_to_next"]) == (True, None)
    assert (sold["kind"], sold["lot"], sold["parties"][0]["role"]) == (
        "auction",
        "4",
        "auctioneer",
    )
    assert [note["text"] for note in answer["notes"]] == ["Letter."]
    assert text[sold["start"] : sold["end"]] == sold["text"]


@pytest.mark.parametrize(
    "line", ["", "nonsense", "[1]", '{"texts": "a"}', '{"text": 1}', "[" * 5000]
)
@pytest.mark.parametrize("kind", KEYS)
def test_a_line_that_is_no_json_is_given_back_whole(kind, line):
    good = json.dumps({"text": "1903"})
    bad, after = parsed(kind, f"{line}\n{good}\n", "--jsonl")
    assert (bad["text"], bad["rest"]) == (line, line)
    assert set(bad) == {"text", "rest"} | KEYS[kind]
    assert after["text"] == "1903"
    if kind == "labels":
        assert bad["errors"][0]["message"] == "this line is no JSON object with a text"


def test_a_file_of_another_machine_is_read_all_the_same():
    windows, last = parsed("labels", b"\xef\xbb\xbfLot 12\r\nLot 13")
    assert (windows["text"], last["text"]) == ("Lot 12", "Lot 13")
    (latin,) = parsed("labels", "Müller".encode("latin-1"))
    assert latin["text"] == "M\N{REPLACEMENT CHARACTER}ller"
    assert [(each["at"], each["message"][:36]) for each in latin["errors"]] == [
        (1, "what stood here is not UTF-8, or cou")
    ]


def test_what_is_too_long_for_a_label_is_an_error_of_its_line():
    (answer,) = answers([b"a" * 1_000_001], label, jsonl=False)
    told = json.loads(answer)
    assert len(told["rest"]) == 1_000_001
    assert "1,000,001 bytes" in told["errors"][0]["message"]


@given(st.lists(st.binary(max_size=60).map(lambda line: line.replace(b"\n", b""))))
@example([b"\xed\xa0\x80", b"\x00", b"[" * 200, b"\x85\x1c", "\u2028\u2029".encode()])
@pytest.mark.parametrize("jsonl", [False, True])
@pytest.mark.parametrize("kind", READERS)
def test_any_bytes_get_one_answer_a_line(kind, jsonl, lines):
    told = list(answers([line + b"\n" for line in lines], READERS[kind], jsonl=jsonl))
    assert len(told) == len(lines)
    for answer in told:
        assert answer.count(b"\n") == 1
        assert set(json.loads(answer)) == {"text", "rest"} | KEYS[kind]


@given(st.text(st.characters(exclude_categories=())))
@example("\ud800[")
def test_any_text_comes_back_untouched(text):
    (told,) = answers([json.dumps({"text": text}).encode()], label, jsonl=True)
    answer = json.loads(told)
    assert answer["text"] == text
    assert write(read(text).tree) == text
    assert all(0 <= error["at"] <= len(text) for error in answer["errors"])


def test_the_help_is_the_card_of_the_signs():
    shown = CliRunner().invoke(main, ["parse", "labels", "--help"]).output
    told = " ".join(shown.split())
    for sign in SIGNS:
        assert " ".join(f"{sign.sign} {sign.meaning}".split()) in told


def test_a_reader_that_has_seen_enough_ends_it_quietly():
    command = [sys.executable, "-m", "catalogue.command", "parse", "dates"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as filtering:
        filtering.stdin.write(b"1903\n")
        filtering.stdin.flush()
        assert json.loads(filtering.stdout.readline())["edtf"] == "1903"  # asked line by line
        filtering.stdout.close()
        try:
            filtering.stdin.write(b"1904\n" * 2000)
            filtering.stdin.close()
        except BrokenPipeError:
            pass
        assert filtering.wait(30) == 0
        assert filtering.stderr.read() == b""
