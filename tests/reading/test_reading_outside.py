"""Checks against published conventions: the EpiDoc Guidelines and Leiden+ (facts only).

EpiDoc Guidelines (CC BY 3.0): the page is named beside each row. Their sign and ours differ in
places, so both are given. As there, `<abbr>` inside `<expan>` may be left out, and adjacent
doubtful letters are one `<unclear>`.
"""

import re

import pytest

from catalogue.reading import read

_C = 'unit="character"'
_GUIDELINES = [
    # page, sign printed there, ours, element facts
    ("trans-ambiguous", "Ṭ[rai]ani", "Ṭ[rai]ani",
     '<unclear>T</unclear><supplied reason="lost">rai</supplied>ani'),
    ("trans-lostcharknown", "[...]", "[...]", f'<gap reason="lost" quantity="3" {_C}/>'),
    ("trans-lostcharapprox", "[c.7]", "[c.7]",
     f'<gap reason="lost" quantity="7" {_C} precision="low"/>'),
    ("trans-lostcharapprox", "[— 5-7 —]", "[.5-7]",
     f'<gap reason="lost" atLeast="5" atMost="7" {_C}/>'),
    ("trans-lostcharunknown", "[---]", "[---]", f'<gap reason="lost" extent="unknown" {_C}/>'),
    ("trans-lostlineknown", "[3 lines missing]", "[3 lines]",
     '<gap reason="lost" quantity="3" unit="line"/>'),
    ("trans-restored", "[In]comparabilis", "[In]comparabilis",
     '<supplied reason="lost">In</supplied>comparabilis'),
    ("trans-restoreduncert", "Bon[?ifatius]", "Bon[ifatius?]",
     'Bon<supplied reason="lost" cert="low">ifatius</supplied>'),
    ("trans-abbrevfully", "Iul(ius)", "Iul(ius)", "<expan>Iul<ex>ius</ex></expan>"),
    ("trans-abbrevfully", "trib(unicia)", "trib(unicia)",
     "<expan>trib<ex>unicia</ex></expan>"),
    ("trans-abbrevfully", "q(uin)q(uennalis)", "q(uin)q(uennalis)",
     "<expan>q<ex>uin</ex>q<ex>uennalis</ex></expan>"),
    ("trans-abbrevuncert", "Iul(ius?)", "Iul(ius?)",
     '<expan>Iul<ex cert="low">ius</ex></expan>'),
    ("trans-abbrevnotex", "S(---)", "S(---)", "<abbr>S</abbr>"),
    ("trans-addition", "`Imp(erator)´", "\\Imp(erator)/",
     '<add place="above"><expan>Imp<ex>erator</ex></expan></add>'),
    ("trans-erasedlost", "[[[...]]]", "[[[...]]]",
     f'<del rend="strikethrough"><gap reason="lost" quantity="3" {_C}/></del>'),
    ("trans-struckovererasure", "[[Imilchonis]]<<Himilcho>>", "[[Imilchonis]]<<Himilcho>>",
     '<subst><del rend="strikethrough">Imilchonis</del>'
     '<add place="overstrike">Himilcho</add></subst>'),
    ("trans-omitted", "Valent<in>iani", "Valent<in>iani",
     'Valent<supplied reason="omitted">in</supplied>iani'),
    ("trans-superfluous", "pac{a}e", "pac{a}e", "pac<surplus>a</surplus>e"),
    ("trans-erroneoussubstitution", "s⌈u⌉b", "s<u=y>b",
     "s<choice><corr>u</corr><sic>y</sic></choice>b"),
    ("trans-linebreakinword", "imper/ator", "imper=|ator", 'imper<lb break="no"/>ator'),
    ("trans-vacatchar", "(vac.3)", "(vac.3)", f'<space quantity="3" {_C}/>'),
    ("trans-illegiblecharapprox", "[c.5]", "+(c.5)",
     f'<gap reason="illegible" quantity="5" {_C} precision="low"/>'),
    ("trans-raisedlowered", "ab, c raised", "ab^c^", 'ab<hi rend="superscript">c</hi>'),
    ("trans-possiblylost", "gap doubtful", "a[...?]",
     f'a<gap reason="lost" quantity="3" {_C}><certainty match=".." locus="name"/></gap>'),
    ("trans-foreigntext", "other language", "~fr:huile~",
     '<foreign xml:lang="fr">huile</foreign>'),
    ("trans-abbrevmark", "Gal.", "Gal.(erie)",
     "<expan>Gal<am>.</am><ex>erie</ex></expan>"),
]  # fmt: skip
_LEIDEN_PLUS = [
    # assertions of the Leiden+ grammar (repository papyri/xsugar) on the signs that we share
    ("[.2]", "[.2]", f'<gap reason="lost" quantity="2" {_C}/>'),
    ("[.1-2]", "[.1-2]", f'<gap reason="lost" atLeast="1" atMost="2" {_C}/>'),
    ("[ca.13]", "[ca.13]", f'<gap reason="lost" quantity="13" {_C} precision="low"/>'),
    ("[.?]", "[.?]", f'<gap reason="lost" extent="unknown" {_C}/>'),
    ("lost.3lin", "[3 lines]", '<gap reason="lost" quantity="3" unit="line"/>'),
    ("<abc>", "<abc>", '<supplied reason="omitted">abc</supplied>'),
    ("{test}", "{test}", "<surplus>test</surplus>"),
    ("[ạḅ(?)]", "[ạḅ?]", '<supplied reason="lost" cert="low"><unclear>ab</unclear></supplied>'),
    ("(|ab|)", "ab(---)", "<abbr>ab</abbr>"),
    ("ạḅ[c̣ de]f", "ạḅ[c̣ de]f",
     '<unclear>ab</unclear><supplied reason="lost"><unclear>c</unclear> de</supplied>f'),
    ("(ab(c)def(gh)i(j))", "ab(c)def(gh)i(j)",
     "<expan>ab<ex>c</ex>def<ex>gh</ex>i<ex>j</ex></expan>"),
    ("vac.?", "(vac.)", f'<space extent="unknown" {_C}/>'),
    (".31-77", "+(31-77)", f'<gap reason="illegible" atLeast="31" atMost="77" {_C}/>'),
]  # fmt: skip


def _as_compared(fragment):
    """Without what the two may write differently."""
    merged = fragment.replace("</unclear><unclear>", "")
    while "<expan>" in merged and re.search(r"<expan>(?:(?!</expan>).)*</?abbr>", merged):
        merged = re.sub(r"(<expan>(?:(?!</expan>).)*?)</?abbr>", r"\1", merged)
    return merged


@pytest.mark.parametrize(
    ("page", "printed", "typed", "facts"), _GUIDELINES, ids=lambda told: told[:24]
)
def test_the_epidoc_guidelines_agree(page, printed, typed, facts):
    reading = read(typed)
    assert _as_compared(reading.tei()) == facts
    assert not reading.faults


@pytest.mark.parametrize(("printed", "typed", "facts"), _LEIDEN_PLUS)
def test_leiden_plus_agrees_where_we_share_a_sign(printed, typed, facts):
    assert _as_compared(read(typed).tei()) == facts
