"""The rules of vocab/dating: every row does what its examples say, and a bad row is refused.

Among the examples are all the strings of the fact sheet that rules must or must not match. All
are invented.
"""

import re
from collections import Counter

import pytest

from catalogue.argument import date_label, date_repair, rule, rules
from catalogue.argument.dating_rules import FIELDS, read_rules, rules_on, searchable
from catalogue.errors import BadSetting
from catalogue.places import folder
from catalogue.reading import read
from catalogue.reading.scan import SIGNS_TO_ESCAPE

ROWS = [pytest.param(each, id=each.key) for each in rules()]


def as_typed(text):
    """The markup of a label on which this stands."""
    return re.sub(f"([{re.escape(SIGNS_TO_ESCAPE)}])", r"\\\1", text).replace("\n", "|")


def fired(row, text):
    """The keys of the rules that the engine argues from, where the text comes from the rule's country."""
    if row.on == "description":
        dating = date_repair([text], regions=row.only_in)
    else:
        dating = date_label(read(as_typed(text)), regions=row.only_in)
    return {reason.rule for reason in dating.reasons}


@pytest.mark.parametrize("row", ROWS)
def test_every_rule_fires_on_its_examples_and_not_on_what_is_nearly_so(row):
    assert [text for text in row.fires if row.key not in fired(row, text)] == []
    assert [text for text in row.nearly if row.key in fired(row, text)] == []


def test_all_rows_of_the_sheet_are_here_with_how_far_they_were_checked():
    # Fact sheet of datable evidence, first line: 372 rules; 166 page found, 58 partly, 141 from
    # memory, 7 lore.
    counted = Counter(each.verified for each in rules())
    assert counted["page found"] >= 166
    assert counted["page found for part, detail from memory"] >= 58
    assert counted["from memory"] >= 141
    assert sum(counted.values()) >= 372


def test_anchors_never_hide_a_rule():
    for each in rules():
        for text in each.fires:
            assert each.may_be_in(searchable(text)), each.key


@pytest.mark.parametrize("row", ROWS)
def test_what_differs_from_the_sheet_says_why_and_what_is_said_is_a_sentence(row):
    assert row.why.endswith(".")
    assert row.source
    assert row.differs == row.differs.strip()


@pytest.mark.parametrize("row", [p for p in ROWS if p.id.startswith("ww2.")])
def test_a_sensitive_mark_is_a_prompt_to_look_and_never_a_finding(row):
    assert row.careful
    dating = date_label(read(as_typed(row.fires[0])), regions=row.only_in)
    (reason,) = (each for each in dating.reasons if each.rule == row.key)
    for words in (
        "Possible mark of the years 1933-52",
        "check the public databases (Jeu de Paume seizure database; Munich collecting point database"
        " and Linz database of the German Historical Museum; lost art register)",
        "take specialist advice before sale",
        "no loss, no guilt and no clearance",
    ):
        assert words in reason.why
    assert row.dates == "presence"


def test_alternatives_rest_on_the_same_words():
    stems = {each.stem for each in rules() if each.has_alternatives}
    assert stems == {"gb.royal.king", "gb.royal.queen", "gb.royal.pow"}
    for stem in stems:
        same = [each for each in rules() if each.stem == stem]
        assert len({each.finder.pattern for each in same}) == 1
        assert len(same) > 1


GOOD = """
[every]
dates = "printing"
[[rule]]
key = "xx.test.crown"
seen = "a crown"
says = ["Crown & Trew"]
not_before = 1901-01-01
strength = "hard"
why = "It began then."
source = "invented"
verified = "from memory"
fires = ["CROWN & TREW", "Crown\\n& Trew"]
nearly = ["Crowned & Trew"]
"""


def refused(tmp_path, text):
    file = tmp_path / "crowns.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(BadSetting) as told:
        read_rules([file])
    return str(told.value)


def test_a_curator_adds_a_row_without_python(tmp_path):
    file = tmp_path / "crowns.toml"
    file.write_text(GOOD, "utf-8")
    (row,) = read_rules([file])
    assert row.key == "xx.test.crown"
    assert row.not_before.iso == "1901-01-01"
    assert (row.not_after, row.margin, row.on, row.region) == (None, 0, "label", "any")


def test_a_row_may_be_called_by_concepts_alone(tmp_path):
    file = tmp_path / "crowns.toml"
    said = GOOD.replace('says = ["Crown & Trew"]', 'terms = ["material/dammar"]')
    said = re.sub("fires = .*", 'fires = ["material/dammar"]', said)
    said = re.sub("nearly = .*", 'nearly = ["material/mastic", "dammar"]', said)
    file.write_text(said, "utf-8")
    (row,) = read_rules([file])
    assert row.is_of("material/dammar")


@pytest.mark.parametrize(
    ("good", "bad", "says"),
    [
        ('key = "xx.test.crown"', "", "it has no key"),
        ('why = "It began then."', "", "it has no why"),
        ('key = "xx.test.crown"', 'key = "Crown"', "a key is written xx.kind.name"),
        ("[[rule]]", "[[rule]", "crowns.toml:"),
        ("1901-01-01", "1901-02-30", "crowns.toml:"),
        ("1901-01-01", '"1901"', "not_before cannot be '1901'"),
        ("1901-01-01", "1901-01-01T00:00:00", "not_before cannot be"),
        ("not_before = 1901-01-01", "", "it has neither not_before nor not_after"),
        ('strength = "hard"', 'strength = "firm"', "say hard or soft"),
        ('strength = "hard"', 'strength = "hard"\nmargin = -1', "margin is in years"),
        ('strength = "hard"', 'strength = "hard"\nmargin = true', "margin cannot be True"),
        ('strength = "hard"', 'strength = "hard"\nnot_after = 1900-01-01', "it ends before it begins"),
        ('strength = "hard"', 'strength = "hard"\nmarginn = 1', "nothing here is called 'marginn'"),
        ('strength = "hard"', 'strength = "hard"\nonly_in = ["Ruritania"]', "no region is called"),
        ('strength = "hard"', 'strength = "hard"\nterms = ["material/moonstone"]', "vocab/terms has no"),
        ('strength = "hard"', 'strength = "hard"\ndates = "paper"', "say printing or use or"),
        ('strength = "hard"', 'strength = "hard"\non = "photo"', "say label or description or both"),
        ('says = ["Crown & Trew"]', "", "nothing says when it fires"),
        ('says = ["Crown & Trew"]', "says = []", "says cannot be []"),
        ('says = ["Crown & Trew"]', "pattern = '(Crown'", "its pattern cannot be read"),
        ('says = ["Crown & Trew"]', "pattern = 'Crown.*Trew'", "its pattern may go on for ever: *"),
        ('says = ["Crown & Trew"]', "pattern = 'Crow+n'", "its pattern may go on for ever: +"),
        ('says = ["Crown & Trew"]', "pattern = 'Cro{2,}wn'", "its pattern may go on for ever: {2,}"),
        ('fires = ["CROWN & TREW", "Crown\\n& Trew"]', "", "it has no fires"),
        ('nearly = ["Crowned & Trew"]', "", "it has no nearly"),
        ('nearly = ["Crowned & Trew"]', 'nearly = ["Crown & Trew"]', "which its `nearly` forbids"),
        ('fires = ["CROWN', 'fires = ["Hat', "as its `fires` says"),
    ],
)  # fmt: skip
def test_a_row_that_is_not_whole_is_refused_with_file_key_and_remedy(tmp_path, good, bad, says):
    assert GOOD.count(good) == 1
    message = refused(tmp_path, GOOD.replace(good, bad))
    assert message.startswith("crowns.toml:")
    assert says in message
    assert "\n  " in message, "what to do"


def test_a_key_that_stands_twice_is_refused(tmp_path):
    row = GOOD.partition("[[rule]]")[2]
    message = refused(tmp_path, f"{GOOD}\n[[rule]]{row}")
    assert "the key xx.test.crown stands in crowns.toml too" in message


def test_stars_and_pluses_that_stand_for_themselves_are_no_repeats(tmp_path):
    file = tmp_path / "crowns.toml"
    pattern = r"pattern = 'Crown[+*] ?\+ ?\* Trew'"
    said = GOOD.replace('says = ["Crown & Trew"]', pattern)
    said = re.sub("fires = .*", 'fires = ["Crown* + * Trew"]', said)
    file.write_text(said, "utf-8")
    assert len(read_rules([file])) == 1


@pytest.mark.parametrize(
    ("says", "stands", "found"),
    [
        ("Société Trew", "SOCIETE TREW", True),
        ("Société Trew", "société\nTrew", True),
        ("Große Schau", "GROSSE SCHAU", True),
        ("Salon d'Hiver", "Salon d’hiver", True),
        ("T.R.W.", "T. R. W.", True),
        ("T.R.W.", "TRW", True),
        ("T.R.W.", "trw", False),
        ("T.R.W.", "TRWX", False),
        ("T.R.W.", "T.R.W.X.", False),
        ("T.R.W.", "A.T.R.W.", False),
        ("T.R.W.", "A. T.R.W.", True),
        ("T.R.W. Lines", "T.R.W. LINES", True),
        ("Trew", "Trewald", False),
    ],
)
def test_words_are_found_in_capitals_without_accents_and_over_a_line_end(
    tmp_path, says, stands, found
):
    file = tmp_path / "crowns.toml"
    said = GOOD.replace("Crown & Trew", says)
    said = re.sub("fires = .*", f'fires = ["{says}"]', said)
    said = re.sub("nearly = .*", 'nearly = ["nothing of it"]', said)
    file.write_text(said, "utf-8")
    (row,) = read_rules([file])
    assert row.fires_on(stands) is found
    assert row.may_be_in(searchable(stands)) or not found


def test_the_page_for_curators_tells_every_word_of_a_row():
    page = (folder("vocab") / "dating" / "README.md").read_text("utf-8")
    assert [name for name in FIELDS if f"`{name}`" not in page] == []


def test_rules_are_asked_where_they_belong():
    assert rule("hw.staples") not in rules_on("label")
    assert rule("gb.rail.lms") not in rules_on("description")
    assert rule("cv.standard_fr") in rules_on("label")
    assert rule("cv.standard_fr") in rules_on("description")
    with pytest.raises(BadSetting, match=r"no dating rule 'gb\.rail\.none'"):
        rule("gb.rail.none")
