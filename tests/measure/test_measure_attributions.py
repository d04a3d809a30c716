"""Attribution: its words told from the name, before, behind and around it; no false ones."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.measure import attribution_term, read_attribution
from catalogue.measure.attributions import find_attribution
from catalogue.measure.name_words import table
from catalogue.terms import group

BEFORE = [
    # words as written, term, language: common practice, no source
    ("attributed to", "attributed-to"),
    ("Attributed  to", "attributed-to"),
    ("Attr.", "attributed-to"),
    ("probably", "probably-by"),
    ("probably by", "probably-by"),
    ("possibly by", "possibly-by"),
    ("?", "possibly-by"),
    ("formerly attributed to", "formerly-attributed-to"),
    ("workshop of", "workshop-of"),
    ("The Studio of", "studio-of"),
    ("Follower of", "follower-of"),
    ("circle of", "circle-of"),
    ("School of", "school-of"),
    ("manner of", "manner-of"),
    ("in the manner of", "manner-of"),
    ("imitator of", "manner-of"),
    ("style of", "style-of"),
    ("After", "after"),
    ("copy after", "after"),
    ("copy of a painting by", "after"),
    ("after a design by", "after"),
    ("by", "by"),
    ("zugeschrieben", "attributed-to"),
    ("Werkstatt", "workshop-of"),
    ("Werkstatt des", "workshop-of"),
    ("Umkreis", "circle-of"),
    ("Nachfolger des", "follower-of"),
    ("Schule der", "school-of"),
    ("in der Art von", "manner-of"),
    ("Kopie nach", "after"),
    ("attribué à", "attributed-to"),
    ("entourage de", "circle-of"),
    ("atelier de", "workshop-of"),
    ("suiveur de", "follower-of"),
    ("à la manière de", "manner-of"),
    ("d’après", "after"),
    ("d'après", "after"),
    ("attribuito a", "attributed-to"),
    ("seguace di", "follower-of"),
    ("cerchia di", "circle-of"),
    ("bottega di", "workshop-of"),
    ("toegeschreven aan", "attributed-to"),
    ("navolger van", "follower-of"),
    ("omgeving van", "circle-of"),
    ("atribuido a", "attributed-to"),
    ("taller de", "workshop-of"),
    ("círculo de", "circle-of"),
    ("probably a follower of", "follower-of"),
    ("possibly after a design by", "after"),
    ("workshop or follower of", "follower-of"),
    ("attributed to the workshop of", "workshop-of"),
    ("formerly attributed to the circle of", "formerly-attributed-to"),
    ("unknown artist after", "after"),
    ("Unidentified Dutch painter, follower of", "follower-of"),
    ("Anonymous, follower of", "follower-of"),
    ("17th-century follower of", "follower-of"),
    ("attribué à l'entourage de", "circle-of"),
]


@pytest.mark.parametrize(("words", "term"), BEFORE)
@pytest.mark.parametrize("name", ["Ada Penhale", "J. van der Quill", "Quill, J. van der"])
def test_words_before_a_name(words, term, name):
    assert read_attribution(f"{words} {name}") == (" ".join(words.split()), name)
    assert attribution_term(f"{words} {name}") == f"qualifier/{term}"


@pytest.mark.parametrize(
    ("written", "words", "name", "term"),
    [
        ("Ada Penhale (follower of)", "follower of", "Ada Penhale", "follower-of"),
        ("Penhale, Ada (attributed to)", "attributed to", "Penhale, Ada", "attributed-to"),
        ("Penhale, Ada [attributed]", "attributed", "Penhale, Ada", "attributed-to"),
        ("Ada Penhale, circle of", "circle of", "Ada Penhale", "circle-of"),
        ("Penhale, Ada, School of", "School of", "Penhale, Ada", "school-of"),
        ("[Ada Penhale?]", "?", "Ada Penhale", "possibly-by"),
        ("(attributed to Ada Penhale)", "attributed to", "Ada Penhale", "attributed-to"),
        ("Ada Penhale, and Workshop", "and Workshop", "Ada Penhale", "workshop-of"),
        ("Ada Penhale, workshop", "workshop", "Ada Penhale", "workshop-of"),
        ("Ada Penhale or workshop", "or workshop", "Ada Penhale", "workshop-of"),
        ("Ada Penhale and workshop", "and workshop", "Ada Penhale", "workshop-of"),
        ("Ada Penhale & Studio", "& Studio", "Ada Penhale", "studio-of"),
        ("Ada Penhale's workshop", "'s workshop", "Ada Penhale", "workshop-of"),
        ("Hans Trewin und Werkstatt", "und Werkstatt", "Hans Trewin", "workshop-of"),
        ("Hans Trewin (Umkreis)", "Umkreis", "Hans Trewin", "circle-of"),
        ("Hans Trewin, Nachfolger", "Nachfolger", "Hans Trewin", "follower-of"),
        ("Hans Trewin zugeschrieben", "zugeschrieben", "Hans Trewin", "attributed-to"),
        ("Jean Trewin (d'après)", "d'après", "Jean Trewin", "after"),
        ("Ada Penhale, probably", "probably", "Ada Penhale", "probably-by"),
        ("Ada Penhale?", "?", "Ada Penhale", "possibly-by"),
        ("Ada Penhale (?)", "?", "Ada Penhale", "possibly-by"),
        ("? Ada Penhale", "?", "Ada Penhale", "possibly-by"),
        ("(Attr.) Ada Penhale", "Attr.", "Ada Penhale", "attributed-to"),
        ("Attributed to: Ada Penhale", "Attributed to", "Ada Penhale", "attributed-to"),
        ("attribué à l’entourage d'Ada Penhale", "attribué à l’entourage d'", "Ada Penhale", "circle-of"),
        ("Workshop of the Master of the Blue Jug", "Workshop of", "Master of the Blue Jug", "workshop-of"),
        ("Attributed to Ada Penhale (?)", "Attributed to ?", "Ada Penhale", "attributed-to"),
        ("Ada Penhale and Workshop (Dutch, 1600–1660)", "and Workshop", "Ada Penhale (Dutch, 1600–1660)", "workshop-of"),
        ("After Ada Penhale (Dutch, 1600–1660)", "After", "Ada Penhale (Dutch, 1600–1660)", "after"),
        ("Ada Penhale, follower of (1600-1660)", "follower of", "Ada Penhale (1600-1660)", "follower-of"),
        ("attributed to School of Design", "attributed to", "School of Design", "attributed-to"),
    ],
)  # fmt: skip
def test_words_behind_and_around_a_name(written, words, name, term):
    assert read_attribution(written) == (words, name)
    assert attribution_term(written) == f"qualifier/{term}"


PLAIN = [
    "Ada Penhale", "Penhale, Ada", "Byatt Afterman", "Circle, John", "Possible, Ada", "School, Ada", "Schule, Hans",
    "Ada Studio", "Wohl, Anna", "Anna Wohl", "By, Anders", "Anders By", "Penhale, By", "Manner, Ada", "Ada Style",
    "Studio Brandt", "Atelier Brandt", "Workshop Brandt", "School of Design", "School of Fine Arts, Bath",
    "After Hours Gallery", "Circle of Friends Ltd", "After Dark", "Style of Life", "Nach und Söhne", "Dutch School",
    "Dutch School, 17th century", "Master of the Blue Jug", "Meister des blauen Kruges", "Anonymous", "Unknown artist",
    "private collection", "Follower", "after", "Copy", "?", "(?)", "attributed to", "follower of", "Workshop",
    "Trewin and Brothers", "Trewin & Co.", "Ada Penhale after Jan Quillan", "School of thought", "after lunch", "",
    "The Penhale Society", "Probable, J.", "Ada Perhaps", "Forse & Figli", "Office of Works", "Penhale's Studio",
    "Penhale, Ada, Studio", "(after)", "(follower of Ada",
]  # fmt: skip


@pytest.mark.parametrize("name", PLAIN)
def test_a_plain_name_has_no_words_of_attribution(name):
    assert read_attribution(name) == (None, name)
    assert attribution_term(name) is None


# The attribution qualifiers of the Art & Architecture Thesaurus (300404269 to 300404288), of a
# public extract of its Associated Concepts facet, 18 October 2023.
AAT = [
    "after", "assistant to", "associate of", "atelier of", "attributed to", "circle of", "copyist of", "follower of",
    "formerly attributed to", "manner of", "manufactory of", "office of", "possibly by", "probably by", "pupil of",
    "school of", "studio of", "style of", "workshop of",
]  # fmt: skip


@pytest.mark.parametrize("words", AAT)
def test_the_qualifiers_of_the_thesaurus_are_known(words):
    assert read_attribution(f"{words} Ada Penhale") == (words, "Ada Penhale")


def test_every_wording_of_our_own_terms_is_read_as_its_term():
    for term in group("qualifier"):
        if term.name == "unknown":
            continue
        for words in (term.label, *term.alternatives):
            written = (
                f"Ada Penhale {words}" if words.startswith("and ") else f"{words} Ada Penhale"
            )
            assert read_attribution(written) == (words, "Ada Penhale")
            assert attribution_term(written) == term.key


def test_the_lists_speak_of_each_other():
    listed = set()
    for entry in table()["qualifier"]:
        assert f"qualifier/{entry['kind']}" in {term.key for term in group("qualifier")}
        groups = entry.get("group", {})
        assert set(groups) <= set(table()["joins"])
        listed |= {*entry["words"], *(word for words in groups.values() for word in words)}
    assert {word for word in table()["careful"] if word not in listed} == set()


words_and_names = st.lists(
    st.sampled_from(["after", "of", "Ada", "(", ")", ",", "?", "circle", "and", "Werkstatt", "1600", " ", "d'", "É"])
).map(" ".join)  # fmt: skip


@given(st.one_of(st.text(), words_and_names))
@example("(" * 300 + ")" * 300)
def test_no_letter_is_lost_and_none_is_read_twice(text):
    found = find_attribution(text)
    places = sorted([*found.words, *found.name])
    ends = [0, *(end for _, end in places)]
    starts = [*(start for start, _ in places), len(text)]
    assert all(end <= start for end, start in zip(ends, starts, strict=True))
    between = [text[end:start] for end, start in zip(ends, starts, strict=True)]
    letters = ["".join(c for c in part if c.isalnum()) for part in between]
    assert {each.lower() for each in letters} <= {"", "the"}  # "workshop of the Master of ..."
    assert bool(found.words) == bool(found.kind)
