"""A name taken apart: persons, firms, institutions, nobody; and no letter lost."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from nameparser import HumanName

from catalogue.measure import read_name

PARTS = ("qualifier", "honorifics", "given", "family", "life", "rest")


def told(text, *parts):
    name = read_name(text)
    return tuple(getattr(name, part) for part in parts)


# common practice, no source
@pytest.mark.parametrize(
    ("written", "given", "family"),
    [
        ("Ada Penhale", "Ada", "Penhale"),
        ("Penhale, Ada", "Ada", "Penhale"),
        ("ADA PENHALE", "ADA", "PENHALE"),
        ("A. B. Penhale", "A. B.", "Penhale"),
        ("A.Penhale", "A.", "Penhale"),
        ("Penhale, A. B.", "A. B.", "Penhale"),
        ("Penhale, Wm.", "Wm.", "Penhale"),
        ("Trewin J.", "J.", "Trewin"),
        ("Penhale", None, "Penhale"),
        ("Jan van der Quill", "Jan", "van der Quill"),
        ("Quill, Jan van der", "Jan", "van der Quill"),
        ("van der Quill, Jan", "Jan", "van der Quill"),
        ("Jean de la Quill", "Jean", "de la Quill"),
        ("Quill, Jean de la", "Jean", "de la Quill"),
        ("Sandro d'Orme", "Sandro", "d'Orme"),
        ("Ada O'Penhale", "Ada", "O'Penhale"),
        ("Ada McTrewin", "Ada", "McTrewin"),
        ("Ada St. John", "Ada", "St. John"),
        ("St. John, Ada", "Ada", "St. John"),
        ("Le Quill", None, "Le Quill"),
        ("Juan García y López", "Juan", "García y López"),
        ("Jean-Baptiste Quill-Trewin", "Jean-Baptiste", "Quill-Trewin"),
        ("Ada and John Penhale", "Ada and John", "Penhale"),
        ("Mary and John", "Mary and John", None),
        ("A. P.", "A. P.", None),
        ("Church, Ada", "Ada", "Church"),
        ("Ada Church", "Ada", "Church"),
        ("Master of the Blue Jug", None, "Master of the Blue Jug"),
        ("[Ada Penhale]", "Ada", "Penhale"),
        ("山田", None, "山田"),
    ],
)
def test_family_and_given_name(written, given, family):
    assert told(written, "given", "family", "kind", "rest") == (given, family, "person", "")


@pytest.mark.parametrize(
    ("written", "honorifics", "given", "family"),
    [
        ("Mrs. Penhale", "Mrs.", None, "Penhale"),
        ("Mr. and Mrs. A. B. Penhale", "Mr. and Mrs.", "A. B.", "Penhale"),
        ("Sir Ada Penhale, Bt., R.A.", "Sir Bt., R.A.", "Ada", "Penhale"),
        ("Ada Penhale RA FRS", "RA FRS", "Ada", "Penhale"),
        ("Penhale, R.A.", None, "R.A.", "Penhale"),
        ("Penhale, Sir Ada, R.A.", "Sir R.A.", "Ada", "Penhale"),
        ("J. Penhale Esq.", "Esq.", "J.", "Penhale"),
        ("John Penhale, Jr.", "Jr.", "John", "Penhale"),
        ("John Penhale III", "III", "John", "Penhale"),
        ("Jan Quillan the Elder", "the Elder", "Jan", "Quillan"),
        ("Quillan, Jan (the Elder)", "the Elder", "Jan", "Quillan"),
        ("Jan Quillan d. Ä.", "d. Ä.", "Jan", "Quillan"),
        ("Jean Trewin le Jeune", "le Jeune", "Jean", "Trewin"),
        ("Ludwig Freiherr von Trewin", "Freiherr", "Ludwig", "von Trewin"),
        ("Comte de Trewin", "Comte", None, "de Trewin"),
        ("Dr. med. Hans Trewin", "Dr. med.", "Hans", "Trewin"),
        ("The Hon. Ada Penhale", "The Hon.", "Ada", "Penhale"),
        ("Major A. Penhale, D.S.O., M.C.", "Major D.S.O., M.C.", "A.", "Penhale"),
        ("M. et Mme Trewin", "M. et Mme", None, "Trewin"),
        ("M. de Trewin", "M.", None, "de Trewin"),
        ("M. Trewin", None, "M.", "Trewin"),
        ("Vve Trewin", "Vve", None, "Trewin"),
        ("Wwe. Trewin", "Wwe.", None, "Trewin"),
        ("the 3rd Earl of Trewin", "the 3rd Earl of", None, "Trewin"),
        ("Ada Penhale, 3rd Earl of Trewin", "3rd Earl of Trewin", "Ada", "Penhale"),
    ],
)
def test_titles_and_what_follows_a_name(written, honorifics, given, family):
    assert told(written, "honorifics", "given", "family", "kind", "rest") == (
        honorifics, given, family, "person", "",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("written", "life", "rest"),
    [
        ("Ada Penhale [1860-1934]", "1860-1934", ""),
        ("Ada Penhale (1860–1934)", "1860–1934", ""),
        ("Ada Penhale [-1972]", "-1972", ""),
        ("Ada Penhale [1870-]", "1870-", ""),
        ("Ada Penhale (b. 1870)", "b. 1870", ""),
        ("Ada Penhale [d. 1953], Bath", "d. 1953", "Bath"),
        ("Ada Penhale (active 1650–80)", "active 1650–80", ""),
        ("Ada Penhale (French, 1840–1926)", "1840–1926", "French"),
        (
            "Ada Penhale (Dutch, active c. 1650–80 in Delft)",
            "active c. 1650–80",
            "Dutch in Delft",
        ),
        ("Ada Penhale (Leiden 1606–1669 Delft)", "1606–1669", "Leiden Delft"),
        (
            "Ada Penhale (born Bath 1870; died London 1926)",
            "born Bath 1870; died London 1926",
            "",
        ),
        ("Ada Penhale (*1870 Bath)", "*1870", "Bath"),
        ("Ada Penhale, 1840-1926", "1840-1926", ""),
        ("Ada Penhale, born 1870", "born 1870", ""),
        ("Ada Penhale, 1887", None, "1887"),
        ("Ada Penhale (bought 1934)", None, "bought 1934"),
        ("Ada Penhale (née Trewin)", None, "née Trewin"),
        ("Ada Penhale, painter", None, "painter"),
        ("sold to Ada Penhale", None, "sold to"),
        ("his wife, Ada Penhale", None, "his wife"),
        ("Estate of Ada Penhale", None, "Estate of"),
        ("Ada Penhale, assistant", None, "assistant"),
        ("Ada Penhale and John Trewin", None, "and John Trewin"),
        (
            "Ada Penhale (born c. 1870, active until 1934)",
            "born c. 1870, active until 1934",
            "",
        ),
    ],
)
def test_years_of_a_life_and_what_is_left(written, life, rest):
    assert told(written, "given", "family", "life", "rest") == ("Ada", "Penhale", life, rest)


@pytest.mark.parametrize(
    ("written", "kind", "family", "rest"),
    [
        ("Trewin & Sons", "firm", "Trewin & Sons", ""),
        ("J. Trewin & Co. Ltd, Bath", "firm", "J. Trewin & Co. Ltd", "Bath"),
        ("Trewin, Penhale & Co., Ltd., Bath", "firm", "Trewin, Penhale & Co., Ltd.", "Bath"),
        ("Trewin & Sons of Bath", "firm", "Trewin & Sons", "of Bath"),
        ("Trewin & Penhale", "firm", "Trewin & Penhale", ""),
        ("W. & J. Trewin", "firm", "W. & J. Trewin", ""),
        ("Gebr. Trewin", "firm", "Gebr. Trewin", ""),
        ("Trewin et Cie", "firm", "Trewin et Cie", ""),
        ("Trewin S.A.", "firm", "Trewin S.A.", ""),
        ("Kunsthandlung Trewin GmbH", "firm", "Kunsthandlung Trewin GmbH", ""),
        ("(Galerie Trewin, Ghent)", "firm", "Galerie Trewin", "Ghent"),
        ("Ada Penhale Gallery", "firm", "Ada Penhale Gallery", ""),
        ("Studio Brandt", "firm", "Studio Brandt", ""),
        ("Auktionshaus Trewin", "firm", "Auktionshaus Trewin", ""),
        ("Vereinigte Kunstgalerie, Bern", "firm", "Vereinigte Kunstgalerie", "Bern"),
        ("sold to Trewin & Sons", "firm", "Trewin & Sons", "sold to"),
        ("Trewin Academy of Arts, London", "institution", "Trewin Academy of Arts", "London"),
        ("National Gallery of Trewin", "institution", "National Gallery of Trewin", ""),
        ("School of Design", "institution", "School of Design", ""),
        ("City of Bath", "institution", "City of Bath", ""),
        ("St Quill's Church", "institution", "St Quill's Church", ""),
        ("Städtisches Museum", "institution", "Städtisches Museum", ""),
        ("Museum Frames Ltd", "firm", "Museum Frames Ltd", ""),
        ("private collection, Bath", "unknown", "private collection", "Bath"),
        ("Privatsammlung", "unknown", "Privatsammlung", ""),
        ("Anonymous", "unknown", "Anonymous", ""),
        ("Dutch School", "unknown", "Dutch School", ""),
        ("Trewin Collection", "unknown", "Trewin Collection", ""),
        ("School of Ferrara", "unknown", "Ferrara", ""),
        ("Dutch 17th Century", "unknown", "Dutch", ""),
        ("North Italian, 16th century", "unknown", "North Italian", ""),
        ("Trewin's, Bath", "firm", "Trewin's", "Bath"),
        ("Boyd, Trewin and Quill", "firm", "Boyd, Trewin and Quill", ""),
        ("Bank of Bath", "firm", "Bank of Bath", ""),
        ("Trewin and Penhale", "firm", "Trewin and Penhale", ""),
        ("low tide", "unknown", None, "low tide"),
        ("", "unknown", None, ""),
    ],
)
def test_firms_institutions_and_nobody(written, kind, family, rest):
    assert told(written, "kind", "family", "given", "rest") == (kind, family, None, rest)


def test_messrs_is_a_title_of_a_firm():
    assert told("Messrs. Trewin", "kind", "honorifics", "family") == (
        "firm",
        "Messrs.",
        "Trewin",
    )


def test_words_of_attribution_are_taken_off_first():
    name = read_name("Attributed to Penhale, Ada (1840-1926)")
    assert (name.qualifier, name.given, name.family) == ("Attributed to", "Ada", "Penhale")
    school = read_name("Dutch School, 17th century")
    assert (school.qualifier, school.kind, school.life) == (None, "unknown", "17th century")


# The reference is the Python package nameparser, on what both take apart: first, middle and last name
# in the order of speaking or turned round, titles, letters behind a name.
COMMON = [
    "Ada Penhale", "Penhale, Ada", "A. B. Penhale", "Penhale, A. B.", "Jan van der Quill", "van der Quill, Jan",
    "Dr. Ada Penhale", "Mrs. Ada Penhale", "Sir Ada Penhale", "Prof. Ada B. Penhale", "Ada Penhale Jr.",
    "Ada Penhale III", "Ada Penhale, MD", "Juan de la Vega", "Ludwig von Trewin", "Mr. and Mrs. Ada Penhale",
    "Ada O'Penhale", "Ada Mary Penhale", "Miss A. Penhale", "Rev. Ada Penhale", "Quill, Jan van der",
    "Freiherr von Trewin", "Juan García y López", "Sir Ada Penhale, Bt.", "Ada Penhale, R.A.", "Lady Ada Penhale",
    "Mme Ada Trewin", "Frau Ada Trewin", "Ada Penhale Esq.", "Capt. A. Penhale", "Lord Penhale", "Ada St. John",
    "Jan ter Quill", "Jan van 't Quill", "Ada Di Trewin", "Hon. Ada Penhale",
]  # fmt: skip
# Ours is (titles, given, family).
WHO_IS_RIGHT = {
    "the 3rd Earl of Trewin": (("the 3rd Earl of", None, "Trewin"), "ours: the place is the name, the rank a title"),
    "Jan Quillan the Elder": (("the Elder", "Jan", "Quillan"), "ours: which of two bearers is no family name"),
    "Jan Quillan d. Ä.": (("d. Ä.", "Jan", "Quillan"), "ours: the same in German"),
    "Jean Trewin le Jeune": (("le Jeune", "Jean", "Trewin"), "ours: the same in French"),
    "Major Ada Penhale": (("Major", "Ada", "Penhale"), "ours on a label; it is a first name too"),
    "M. de Trewin": (("M.", None, "de Trewin"), "ours: before a particle, Monsieur"),
    "Ludwig Freiherr von Trewin": (("Freiherr", "Ludwig", "von Trewin"), "ours: a title, until 1919; since then German law makes it a name"),
    "Penhale, R.A.": ((None, "R.A.", "Penhale"), "open: initials, or letters behind a name without a first one"),
    "A.Penhale": ((None, "A.", "Penhale"), "ours: an initial that stands close"),
    "Trewin J.": ((None, "J.", "Trewin"), "ours: as directories print it"),
}  # fmt: skip


@pytest.mark.parametrize("written", COMMON)
def test_persons_are_taken_apart_as_nameparser_does(written):
    reference, ours = HumanName(written), read_name(written)
    assert ours.family == reference.last
    assert (ours.given or "") == " ".join(filter(None, (reference.first, reference.middle)))
    titles = " ".join(filter(None, (reference.title, reference.suffix)))
    assert (ours.honorifics or "") == titles


@pytest.mark.parametrize("written", WHO_IS_RIGHT)
def test_where_nameparser_and_we_disagree_it_is_said_who_is_right(written):
    ours, _ = WHO_IS_RIGHT[written]
    reference = HumanName(written)
    theirs = (reference.title, f"{reference.first} {reference.middle}".strip(), reference.last)
    assert theirs != tuple(part or "" for part in ours)
    assert told(written, "honorifics", "given", "family") == ours


pieces = st.lists(
    st.sampled_from([
        "Ada", "Penhale", "van der", "(1840-1926)", "[", "]", "(", ")", ",", "& Sons", "Ltd", "Mrs.", "R.A.", "after", "d'Orme",
        "Museum", "private collection", "?", "A.", "of", "b.", "1870", "M.", "le", "the Elder", "Freiherr", "von", "School",
    ])
).map(" ".join)  # fmt: skip


def letters(*texts):
    return Counter(c for text in texts if text for c in text if c.isalnum())


@given(st.one_of(st.text(), pieces, st.text(st.characters(exclude_categories=()))))
@example("(" * 2000)
@example("Ada " * 200)
@example("Ada , Mrs. [")
def test_no_letter_is_lost_and_none_is_told_twice(text):
    name = read_name(text)
    assert name.text == text
    assert letters(*(getattr(name, part) for part in PARTS)) == letters(text)


@given(pieces)
@example("b. b. 1870")
@example(", b. 1870")
def test_a_name_reads_the_same_with_blanks_around_it(text):
    bare, wide = read_name(text), read_name(f"  {text}\n")
    assert told_all(bare) == told_all(wide)


def told_all(name):
    return tuple(getattr(name, part) for part in (*PARTS, "kind"))
