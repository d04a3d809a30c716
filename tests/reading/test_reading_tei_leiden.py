"""Two packages of the registry that turn Leiden signs into TEI, as a cross-check on the signs we share.

chetc 0.0.1 (GPL-2) and leidenmark 0.2.2 (with Markdown 3.3.7; its licence field says UNKNOWN) were
installed once, apart from the project, and their output is here as facts: they are no dependencies.
Both number lines and words, which is left out. Where we differ, the row says who is right.
"""

import pytest
from test_reading_tei_back import sentence, told

from catalogue.reading import read, read_tei

_C = 'unit="character"'
# package, sign typed there, its output, our sign
AGREED = [
    ("chetc", "Aug(ustus)", "<expan><abbr>Aug</abbr><ex>ustus</ex></expan>", "Aug(ustus)"),
    ("chetc", "[abc]", '<supplied reason="lost">abc</supplied>', "[abc]"),
    ("chetc", "<b=p>", "<choice><corr>b</corr><sic>p</sic></choice>", "<b=p>"),
    ("chetc", "a / b", "a<lb/>b", "a\nb"),
    ("chetc", "[f(ilius)]",
     '<supplied reason="lost"><expan><abbr>f</abbr><ex>ilius</ex></expan></supplied>', "[f(ilius)]"),
    ("leidenmark", "[abc]", '<supplied reason="lost">abc</supplied>', "[abc]"),
    ("leidenmark", "[.3]", f'<gap reason="lost" quantity="3" {_C}/>', "[...]"),
    ("leidenmark", "[.2-4]", f'<gap reason="lost" atLeast="2" atMost="4" {_C}/>', "[.2-4]"),
    ("leidenmark", "[ca.5]", f'<gap reason="lost" quantity="5" {_C} precision="low"/>', "[c.5]"),
    ("leidenmark", "[.?]", f'<gap reason="lost" extent="unknown" {_C}/>', "[---]"),
    ("leidenmark", ".3", f'<gap reason="illegible" quantity="3" {_C}/>', "+(3)"),
    ("leidenmark", ".?", f'<gap reason="illegible" extent="unknown" {_C}/>', "+(?)"),
    ("leidenmark", ".2-4", f'<gap reason="illegible" atLeast="2" atMost="4" {_C}/>', "+(2-4)"),
    ("leidenmark", "\\abc/", '<add place="above">abc</add>', "\\abc/"),
    ("leidenmark", "vac.3", f'<space quantity="3" {_C}/>', "(vac.3)"),
    ("leidenmark", "vac.?", f'<space extent="unknown" {_C}/>', "(vac.)"),
]  # fmt: skip
# package, sign, its output, our sign for it, our output, who is right and why
DIFFER = [
    ("leidenmark", "〚abc〛", '<del rend="erasure">abc</del>', "[[abc]]",
     '<del rend="strikethrough">abc</del>',
     "both: a stone is erased with a chisel, a label struck out with a pen (standards sheet 1.1)"),
    ("leidenmark", "lost.3lin", '<gap quantity="3" unit="line"/>', "[3 lines]",
     '<gap reason="lost" quantity="3" unit="line"/>',
     "we: EpiDoc, trans-lostlineknown, has the reason"),
    ("leidenmark", "[abc(?)]", '<supplied reason="lost">abc(?)</supplied>', "[abc?]",
     '<supplied reason="lost" cert="low">abc</supplied>',
     "we: EpiDoc, trans-restoreduncert, and the grammar of Leiden+ have cert"),
    ("leidenmark", "ạb", "ạb", "ạb", "<unclear>a</unclear>b",
     "we: EpiDoc, trans-ambiguous; the sign was left as it stood"),
    ("leidenmark", "(Aug(ustus))", "(Aug(ustus))", "Aug(ustus)",
     "<expan><abbr>Aug</abbr><ex>ustus</ex></expan>",
     "we: EpiDoc, trans-abbrevfully; the sign was left as it stood"),
    ("leidenmark", "{abc}", "{abc}", "{abc}", "<surplus>abc</surplus>",
     "we: EpiDoc, trans-superfluous; the sign was left as it stood"),
    ("leidenmark", "<abc>", None, "<abc>", '<supplied reason="omitted">abc</supplied>',
     "we: EpiDoc, trans-omitted; the package stops with an error"),
    ("chetc", "[3]", f'<gap reason="lost" extent="3" {_C}/>', "[...]",
     f'<gap reason="lost" quantity="3" {_C}/>',
     "we: TEI, att.dimensions, has counted sizes in quantity; in our markup [3] is a restored 3"),
    ("chetc", "{abc}", "<sic>abc</sic>", "{abc}", "<surplus>abc</surplus>",
     "we: EpiDoc, trans-superfluous"),
    ("chetc", "[[abc]]", '[<supplied reason="lost">abc</supplied>]', "[[abc]]",
     '<del rend="strikethrough">abc</del>', "we: EpiDoc, trans-erased"),
    ("chetc", "[---]", "[---]", "[---]", f'<gap reason="lost" extent="unknown" {_C}/>',
     "we: EpiDoc, trans-lostcharunknown; the sign was left as it stood"),
    ("chetc", "+++", "+++", "+++", f'<gap reason="illegible" quantity="3" {_C}/>',
     "we: KP III.4 in the EpiDoc cheat sheet; the sign was left as it stood"),
]  # fmt: skip


@pytest.mark.parametrize(("package", "sign", "output", "ours"), AGREED)
def test_where_they_and_we_agree(package, sign, output, ours):
    assert read(ours).tei() == output
    assert read_tei(output).markup == ours


@pytest.mark.parametrize(("package", "sign", "theirs", "ours", "output", "why"), DIFFER)
def test_where_they_and_we_differ(package, sign, theirs, ours, output, why):
    assert read(ours).tei() == output
    assert theirs != output
    assert why.startswith(("we: ", "both: "))


def test_their_output_is_read_all_the_same():
    # leidenmark writes lines as <l>, chetc numbers every word: both are told of
    found = read_tei('<ab>\n<l n="1">Low <del rend="erasure">T</del>ide</l></ab>')
    assert found.markup == "Low [[erased: T]]ide"
    assert told(found) == {sentence("transparent")}
    found = read_tei(
        '<ab><lb n="1"/><w n="1">[<supplied reason="lost">abc</supplied>]</w></ab>'
    )
    assert found.markup == "\\[[abc]\\]"
