"""From TEI to our markup and back: what published conventions show, and what other files hold.

Outside the project: the EpiDoc Guidelines (CC BY 3.0; the page is named beside each row, facts only)
and the TEI Guidelines (P5: chapters 3 "Elements available in all TEI documents", 11 "Representation of
primary sources", 12 "Critical apparatus"; reference pages of the elements named). Texts are theirs
only where a vector is a published fact; the whole files here are invented in the shape of such files.
"""

import re
import unicodedata
import xml.etree.ElementTree as ET
from contextlib import suppress

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from test_reading_properties import labels, soup

from catalogue.errors import BadDocument, MarkupError
from catalogue.reading import TeiDocument, Term, read, read_tei, tei_document
from catalogue.reading.tei_words import table

_C = 'unit="character"'
# What we support: page of the EpiDoc Guidelines, their XML, our markup. Each is kept both ways.
SUPPORTED = [
    ("trans-ambiguous",
     '<unclear>T</unclear><supplied reason="lost">rai</supplied>ani', "T_[rai]ani"),
    ("trans-lostcharknown", f'<gap reason="lost" quantity="3" {_C}/>', "[...]"),
    ("trans-lostcharapprox", f'<gap reason="lost" quantity="7" {_C} precision="low"/>', "[c.7]"),
    ("trans-lostcharapprox", f'<gap reason="lost" atLeast="5" atMost="7" {_C}/>', "[.5-7]"),
    ("trans-lostcharunknown", f'<gap reason="lost" extent="unknown" {_C}/>', "[---]"),
    ("trans-lostlineknown", '<gap reason="lost" quantity="3" unit="line"/>', "[3 lines]"),
    ("trans-lostlineunknown", '<gap reason="lost" extent="unknown" unit="line"/>', "[? lines]"),
    ("trans-illegiblecharknown", f'a<gap reason="illegible" quantity="3" {_C}/>', "a+(3)"),
    ("trans-illegiblecharapprox",
     f'a<gap reason="illegible" quantity="5" {_C} precision="low"/>', "a+(c.5)"),
    ("trans-illegiblecharunknown", f'a<gap reason="illegible" extent="unknown" {_C}/>', "a+(?)"),
    ("trans-illegiblelineknown", '<gap reason="illegible" quantity="2" unit="line"/>', "+(2 lines)"),
    ("trans-possiblylost",
     f'a<gap reason="lost" quantity="3" {_C}><certainty match=".." locus="name"/></gap>', "a[...?]"),
    ("trans-restored", '<supplied reason="lost">In</supplied>comparabilis', "[In]comparabilis"),
    ("trans-restoreduncert",
     'Bon<supplied reason="lost" cert="low">ifatius</supplied>', "Bon[ifatius?]"),
    ("trans-abbrevfully", "<expan><abbr>Iul</abbr><ex>ius</ex></expan>", "Iul(ius)"),
    ("trans-abbrevfully", "<expan><abbr>trib</abbr><ex>unicia</ex></expan>", "trib(unicia)"),
    ("trans-abbrevfully",
     "<expan><abbr>q</abbr><ex>uin</ex><abbr>q</abbr><ex>uennalis</ex></expan>",
     "q(uin)q(uennalis)"),
    ("trans-abbrevuncert", '<expan><abbr>Iul</abbr><ex cert="low">ius</ex></expan>', "Iul(ius?)"),
    ("trans-abbrevnotex", "<abbr>S</abbr>", "S(---)"),
    ("trans-abbrevmark", "<expan><abbr>Gal<am>.</am></abbr><ex>erie</ex></expan>", "Gal.(erie)"),
    ("trans-addition",
     '<add place="above"><expan><abbr>Imp</abbr><ex>erator</ex></expan></add>', "\\Imp(erator)/"),
    ("trans-erasedlost",
     f'<del rend="strikethrough"><gap reason="lost" quantity="3" {_C}/></del>', "[[[...]]]"),
    ("trans-struckovererasure",
     '<subst><del rend="strikethrough">Imilchonis</del>'
     '<add place="overstrike">Himilcho</add></subst>', "[[Imilchonis]]<<Himilcho>>"),
    ("trans-omitted", 'Valent<supplied reason="omitted">in</supplied>iani', "Valent<in>iani"),
    ("trans-superfluous", "pac<surplus>a</surplus>e", "pac{a}e"),
    ("trans-erroneoussubstitution",
     "s<choice><corr>u</corr><sic>y</sic></choice>b", "s<u=y>b"),
    ("trans-linebreak", "Low<lb/>Tide", "Low\nTide"),
    ("trans-linebreakinword", 'imper<lb break="no"/>ator', "imper=\nator"),
    ("trans-vacatchar", f'a <space quantity="3" {_C}/> b', "a (vac.3) b"),
    ("trans-raisedlowered", 'ab<hi rend="superscript">c</hi>', "ab^c^"),
    ("trans-foreigntext", '<foreign xml:lang="fr">huile</foreign>', "~fr:huile~"),
    ("trans-columns", "Low<cb/>Tide", "Low||Tide"),
]  # fmt: skip
# The same meaning in other words: their XML, our markup, the XML that we write, how we tell (or None).
NORMALISED = [
    ("trans-erroneoussubstitution: sic first",
     "s<choice><sic>y</sic><corr>u</corr></choice>b", "s<u=y>b",
     "s<choice><corr>u</corr><sic>y</sic></choice>b", None),
    ("trans-regularization", "<choice><orig>Galery</orig><reg>Gallery</reg></choice>",
     "<Gallery=Galery>", "<choice><corr>Gallery</corr><sic>Galery</sic></choice>", "regularised"),
    ("trans-erased: a chisel, for us a pen", '<del rend="erasure">412</del>', "[[erased: 412]]",
     '<del rend="erased">412</del>', None),
    ("trans-erased: no manner told", "<del>412</del>", "[[412]]",
     '<del rend="strikethrough">412</del>', None),
    ("trans-uninterpreted", "<orig>ABC</orig>", "ABC", "ABC", "transparent"),
    ("trans-abbrevfully: no abbr", "<expan>Iul<ex>ius</ex></expan>", "Iul(ius)",
     "<expan><abbr>Iul</abbr><ex>ius</ex></expan>", None),
    ("trans-abbrevmark: a mark beside the point",
     "<expan><abbr>Au<am>gg</am></abbr><ex>gusti duo</ex></expan>", "Augg((Augusti duo))",
     "<choice><abbr>Augg</abbr><expan>Augusti duo</expan></choice>", "replaced"),
    ("trans-abbrevsymbol: nothing but the resolution",
     "<expan><ex>denarii</ex></expan>", "<denarii>",
     '<supplied reason="omitted">denarii</supplied>', "supplied"),
    ("trans-previouseditor",
     '<supplied reason="undefined" evidence="previouseditor">abc</supplied>', "[abc]",
     '<supplied reason="lost">abc</supplied>', "reason"),
    ("trans-lettersjoined", '<hi rend="ligature">ae</hi>de', "aede", "aede", "highlighted"),
    ("att.dimensions: a number in extent", f'<gap reason="lost" extent="2" {_C}/>', "[..]",
     f'<gap reason="lost" quantity="2" {_C}/>', None),
    ("att.dimensions: millimetres", '<gap reason="lost" quantity="12" unit="mm"/>', "[--- :12 mm]",
     f'<gap reason="lost" extent="unknown" {_C} agent="12-mm"/>', "unit"),
    ("trans-ellipsis", f'<gap reason="ellipsis" extent="unknown" {_C}/>', "[--- :ellipsis]",
     f'<gap reason="lost" extent="unknown" {_C} agent="ellipsis"/>', "omitted_gap"),
    ("trans-ambiguous: two readings",
     "<choice><unclear>a</unclear><unclear>o</unclear></choice>", "a_/* or: o */",
     "<unclear>a</unclear><note>or: o</note>", "first"),
    ("trans-addition: no place told", "<add>sold</add>", "\\sold/",
     '<add place="above">sold</add>', "place"),
    ("trans-nonalphabetic", '<g type="leaf"/>', "{{leaf}}",
     "<figure><figDesc>leaf</figDesc></figure>", "glyph"),
    ("app-parallel: a variant", "<app><lem>Low</lem><rdg>Law</rdg></app>", "Low/* or: Law */",
     "Low<note>or: Law</note>", "first"),
    ("trans-linebreakinword: our own hyphen rule", "Ausstel-<lb/>lung", "Ausstel-\nlung",
     'Ausstel-<lb break="no"/>lung', "line_joined"),
]  # fmt: skip
# What a file may hold that has no sign here: the element, our markup, what we tell.
WRAPPERS = [
    f"<{name}>Low Tide</{name}>"
    for name in (
        "persName", "placeName", "orgName", "name", "num", "date", "rs", "geogName", "measure",
        "term", "title", "q", "quote", "emph", "w", "phr", "s", "ref", "unknownElement",
    )
]  # fmt: skip
_ISLAND = """<?xml version="1.0" encoding="UTF-8"?>
<?xml-model href="tei-epidoc.rng"?>
<TEI xmlns="http://www.tei-c.org/ns/1.0" xml:lang="en">
  <teiHeader><fileDesc><titleStmt><title>Label</title></titleStmt><publicationStmt><p/></publicationStmt>
    <sourceDesc><msDesc><physDesc><handDesc>
      <handNote xml:id="m1">rubber stamp</handNote>
      <handNote xml:id="m2" medium="blue chalk"/>
    </handDesc></physDesc></msDesc></sourceDesc></fileDesc></teiHeader>
  <facsimile><surface><graphic url="back.jpg"/><zone xml:id="z1" ulx="1" uly="2" lrx="30" lry="40"/>
    <zone xml:id="z2" points="1,1 5,1 3,4"/></surface></facsimile>
  <text>
    <body>
      <div type="edition" xml:space="preserve" xml:lang="fr" n="7">
        <ab facs="#z1 #z2">
          <lb n="1"/><handShift new="#m1"/><w>SALON</w> <g ref="#dot">·</g> <name>Saint-
          <lb n="2" break="no"/>Aubert</name> <!-- sic? -->
          <lb n="3"/><handShift new="#m2"/><w><expan><abbr>N</abbr><ex>umero</ex></expan></w> <num value="12">12</num>
          <gap reason="lost" extent="unknown" unit="character"/>
        </ab>
      </div>
      <div type="translation"><p>Not this.</p></div>
    </body>
  </text>
</TEI>"""


# Elements that only remark on others, or hold what ours keep empty.
TOLD = [
    ("a<lb>x</lb>", "a\n", "inside"),
    ('<gap reason="lost" quantity="2" unit="character"><desc>worm</desc></gap>', "[..]", "inside"),
    ('<persName>A<certainty match=".." locus="value"/></persName>', "A", "certainty"),
    ("a<choice><unclear>o</unclear><unclear/></choice>", "ao_", "empty"),
    ("a<pb/>b", "a||b", "page"),
    ('<milestone unit="section" n="2"/>a', "a", "milestone"),
    ('<milestone unit="rotation" n="360"/>a', "a", "milestone"),
    ('<handShift new="#m9"/>a', "@h a", "hand_unknown"),
    ('a<handShift new="#printed"/>b', "a @p b", "spaced"),
    ('<unclear>a.b</unclear>', "a_.b_", "not_a_letter"),
    ("Vi\u1ec7t", "Vi\u1ec7t", "dotted"),
    ("<head>Front</head>a", "/* Front */a", "heading"),
    ("<note>see <ref>12</ref></note>", "/* see 12 */", "note"),
    ("<del/>", "[[+(?)]]", "empty"),
    ("<supplied/>", "", "empty"),
    ('<del rend="burnt">a</del>', "[[a]]", "rend"),
    ('<add place="opposite">a</add>', "\\a/", "place"),
    ('<add place="above">£5</add>', "£5", "letters"),
    ('<foreign>a</foreign>', "a", "language"),
    ('<sic>Low Tyde</sic>', "Low[!] Tyde[!]", "one_word"),
    ('x<expan><abbr>Fr</abbr><ex>au</ex></expan>', "xFr(au)", "grown"),
    ("<expan><abbr>Fr</abbr><ex>au</ex></expan>en", "Fr(au)en", "grown"),
    ("x<choice><abbr>Stk</abbr><expan>Stück</expan></choice>", "x<Stück=Stk>", "corrected"),
    ("<corr>Gallery</corr>", "<Gallery>", "supplied"),
    ('<gap reason="lost" atLeast="7" atMost="5" unit="character"/>',
     "[--- :atLeast 7, atMost 5]", "extent"),
    ('a<gap reason="illegible" extent="unknown" unit="line"/>', "a[? lines :illegible]",
     "illegible_lines"),
    ('a<gap reason="illegible" quantity="2" unit="character" cert="low"/>', "a+(2)", "gap_doubt"),
    ('<gap reason="lost" quantity="3" unit="character" resp="#x"/>', "[...]", "attribute"),
    ('<space quantity="2" unit="line"/>', "(vac.)", "space_unit"),
]  # fmt: skip


@pytest.mark.parametrize(("xml", "markup", "key"), TOLD)
def test_what_cannot_be_kept_as_it_is_is_told(xml, markup, key):
    found = read_tei(f"<ab>{xml}</ab>")
    assert found.markup == markup
    assert any(remark.became.startswith(sentence(key)) for remark in found.remarks), told(found)


def told(found):
    return {remark.became for remark in found.remarks}


def sentence(key):
    """The beginning of what is said, before the words that are filled in."""
    return table("became")[key].partition("{")[0]


@pytest.mark.parametrize(("page", "xml", "markup"), SUPPORTED)
def test_what_we_support_is_kept_both_ways(page, xml, markup):
    found = read_tei(xml)
    assert found.markup == markup, page
    assert found.reading.tei() == xml
    assert not found.remarks
    assert not found.reading.faults


@pytest.mark.parametrize(("page", "xml", "markup", "ours", "key"), NORMALISED)
def test_other_words_for_the_same_are_read_and_told(page, xml, markup, ours, key):
    found = read_tei(xml)
    assert found.markup == markup, page
    assert found.reading.tei() == ours
    if key is None:
        assert not found.remarks
    else:
        assert any(remark.became.startswith(sentence(key)) for remark in found.remarks)
    # what we write is what we read: from here on it stays
    assert read_tei(ours).markup == markup
    assert read_tei(ours).reading.tei() == ours


@pytest.mark.parametrize("xml", WRAPPERS)
def test_an_element_without_a_sign_keeps_its_text_and_is_told(xml):
    found = read_tei(f"<ab>\n{xml}</ab>")
    assert found.markup == "Low Tide"
    (remark,) = found.remarks
    assert (remark.element, remark.line) == (xml[1:].partition(">")[0], 2)
    assert remark.became == sentence("transparent")


def test_a_file_as_others_write_it():
    found = read_tei(_ISLAND)
    (text,) = found.texts
    assert text.markup == "@s SALON · Saint-\nAubert\n@h2(blue chalk) N(umero) 12 [---]"
    assert (text.number, text.language) == ("7", "fr")
    assert [zone.picture for zone in text.zones] == ["back.jpg", "back.jpg"]
    assert text.zones[0].corners == ((1, 2), (30, 2), (30, 40), (1, 40))
    assert text.zones[1].corners == ((1, 1), (5, 1), (3, 4))
    assert found.reading.plain() == "SALON · Saint-Aubert Numero 12 …"
    names = [remark.element for remark in found.remarks]
    assert names == ["teiHeader", "w", "g", "name", "#comment", "lb", "w", "num", "div"]
    assert all(remark.line for remark in found.remarks)


def test_several_editions_of_one_file_are_several_texts():
    xml = (
        "<TEI><text><body><div type='edition' n='1'><ab><lb/>Low</ab></div>"
        "<div type='edition' n='2'><ab><lb/>Tide</ab></div></body></text></TEI>"
    )
    found = read_tei(xml)
    assert [(text.number, text.markup) for text in found.texts] == [("1", "Low"), ("2", "Tide")]
    assert found.markup == "Low||Tide"
    assert not found.remarks


@pytest.mark.parametrize(
    ("xml", "markup"),
    [
        ("<div type='edition'><ab>\n  <lb n='1'/>Low\n  <lb n='2'/>Tide\n</ab></div>", "Low\nTide"),
        ("<ab>Low\n\n   Tide</ab>", "Low Tide"),
        ("<ab>Low <supplied reason='lost'>T</supplied> ide</ab>", "Low [T] ide"),
        ("<ab><choice>\n <sic>Galery</sic>\n <corr>Gallery</corr>\n</choice></ab>", "<Gallery=Galery>"),
        ("<div><ab>Low</ab>\n<ab>Tide</ab></div>", "Low||Tide"),
        ("<div><lg>\n<l>Low</l>\n<l>Tide</l></lg></div>", "Low\nTide"),
        ("<ab><lb/>Low<cb/>\n<lb/>Tide</ab>", "Low||Tide"),
        ("<ab>imper\n  <lb n='2' break='no'/>ator</ab>", "imper=\nator"),
        ("<ab><supplied reason='lost'>Low<lb/>Tide</supplied></ab>", "[Low|Tide]"),
    ],
)  # fmt: skip
def test_white_space_is_read_as_the_guidelines_have_it(xml, markup):
    # TEI Guidelines, 1.3.1.1.6 and the P5 wiki on xml:space: in prose, runs of it are one space
    assert read_tei(xml).markup == markup


@pytest.mark.parametrize(
    ("text", "markup"),
    [
        ("[12] {a} (b) \\c", "\\[12\\] \\{a\\} (b) \\\\c"),
        ("Nr.(x) a(b)", "Nr.\\(x) a\\(b)"),
        ("Smith + Sons, B+W", "Smith + Sons, B\\+W"),
        ("C:\\temp | ~fr:a~ *b* ^c^ x_y", "C:\\\\temp \\| \\~fr:a\\~ \\*b\\* \\^c\\^ x\\_y"),
        ("@p Lot; me@home.example", "\\@p Lot; me@home.example"),
        ("(blank) (vac.)", "\\(blank) \\(vac.)"),
        ("[[x]] <<y>> /* z */", "\\[\\[x\\]\\] \\<\\<y\\>\\> /\\* z \\*\\/"),
    ],
)
def test_letters_that_look_like_signs_stay_letters(text, markup):
    xml = text.replace("&", "&amp;").replace("<", "&lt;")
    found = read_tei(f"<ab>{xml}</ab>")
    assert found.markup == markup
    assert found.reading.diplomatic() == text
    assert not found.remarks


@pytest.mark.parametrize(
    ("xml", "markup"),
    [
        ("<supplied reason='lost'>2 lines</supplied>", "[2 lines ]"),
        ("<supplied reason='lost'>really?</supplied>", "[really? ]"),
        ("<supplied reason='lost'><gap reason='lost' quantity='2' unit='character'/>a</supplied>",
         "[ [..]a]"),
        ("<surplus><surplus>a</surplus></surplus>", "{{a} }"),
    ],
)  # fmt: skip
def test_a_space_that_had_to_be_put_in_is_told(xml, markup):
    found = read_tei(xml)
    assert found.markup == markup
    assert sentence("spaced") in told(found)


@pytest.mark.parametrize(
    ("xml", "said"),
    [
        ("<ab>\n<b></ab>", "line 2: this is not well-formed XML"),
        ("<ab>Smith & Sons</ab>", "line 1: this is not well-formed XML"),
        ("<ab>&nbsp;</ab>", "undefined entity"),
        ("<!DOCTYPE ab [<!ENTITY a 'aaaa'>]><ab>&a;</ab>", "defines an entity (a)"),
        ("<!DOCTYPE ab [<!ENTITY % a SYSTEM 'x'> %a;]><ab/>", "defines an entity (a)"),
        ("<!DOCTYPE ab SYSTEM 'x.dtd'><ab>&a;</ab>", "defined in another file"),
        (b"<?xml version='1.0' encoding='big5'?><ab/>", "encoding"),
        ("<ab>" * 200 + "</ab>" * 200, "150 deep"),
        ("<ab>" + "a" * 1_000_001 + "</ab>", "1,000,000 at most"),
        (None, "a TEI file is text"),
    ],
)
def test_what_cannot_be_read_is_refused_in_words(xml, said):
    with pytest.raises(BadDocument, match=re.escape(said)):
        read_tei(xml)


def test_markup_that_would_be_too_long_is_refused():
    with pytest.raises(MarkupError, match="would have"):
        read_tei("<ab>" + "[" * 600_000 + "</ab>")


def test_signs_that_lie_too_deep_keep_their_text():
    xml = "<surplus>a" * 100 + "</surplus>" * 100
    found = read_tei(xml)
    assert found.reading.seen() == "a" * 100
    assert sentence("too_deep") in told(found)


def _document(markup):
    return tei_document(
        TeiDocument(markup=markup, address="urn:x", kind=Term("label"), work="Low Tide")
    )


def _as_compared(xml):
    return re.sub(r" *(<[lc]b[^>]*>) *", r"\1", re.sub(r"[ \t\r\n]+", " ", xml)).strip()


def _said(reading):
    return reading.diplomatic(), reading.plain(), reading.seen()


def _xml_can_say(markup):
    """What every XML file can hold, with accents composed, as our files have it."""
    kept = "".join(letter for letter in markup if letter.isprintable() or letter in "\n\r ")
    return unicodedata.normalize("NFC", kept)


@settings(max_examples=200, deadline=None)
@given(labels)
def test_a_well_typed_label_comes_back_with_all_that_it_says(typed):
    label = read(typed[0])
    found = read_tei(_document(typed[0]))
    assert _said(found.reading) == _said(label)
    same = _as_compared(found.reading.tei()) == _as_compared(label.tei())
    assert same or told(found) > {sentence("header")}
    assert not found.reading.faults


@settings(max_examples=200, deadline=None)
@given(st.one_of(soup, st.text().map(_xml_can_say)))
def test_any_label_comes_back_the_same_or_it_is_told(typed):
    typed = unicodedata.normalize("NFC", typed)
    label = read(typed)
    found = read_tei(_document(typed))
    same = _as_compared(found.reading.tei()) == _as_compared(label.tei())
    if told(found) == {sentence("header")}:
        assert same
        assert _said(found.reading) == _said(label)


_NAMES = st.sampled_from(
    ["ab", "supplied", "del", "add", "subst", "choice", "sic", "corr", "orig", "reg", "abbr", "expan",
     "ex", "am", "unclear", "hi", "foreign", "surplus", "gap", "space", "lb", "cb", "pb", "note", "seg",
     "handShift", "figure", "certainty", "app", "lem", "w", "g", "milestone", "persName", "head"]
)  # fmt: skip
_VALUES = [
    "lost",
    "low",
    "3",
    "unknown",
    "line",
    "above",
    "no",
    "fr",
    "underline",
    "#m2",
    "",
    "x y",
]
_ATTRIBUTES = st.dictionaries(
    st.sampled_from(["reason", "cert", "quantity", "unit", "place", "break", "rend", "new", "xml:lang",
                     "extent", "atLeast", "atMost", "precision", "agent", "n", "medium"]),
    st.sampled_from(_VALUES), max_size=3,
)  # fmt: skip
_LETTERS = st.text("ab ẹ([?)]*/-_.=@h", max_size=6)


def _element(parts):
    name, attributes, inner = parts
    said = "".join(f' {key}="{value}"' for key, value in attributes.items())
    return f"<{name}{said}>{''.join(inner)}</{name}>"


trees = st.recursive(
    _LETTERS,
    lambda inner: st.tuples(_NAMES, _ATTRIBUTES, st.lists(inner, max_size=4)).map(_element),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(trees)
@example('<gap reason="lost" unit="lost" atLeast="lost"></gap>')
def test_any_elements_in_any_order_are_read(xml):
    found = read_tei(f"<TEI><text><body><div type='edition'>{xml}</div></body></text></TEI>")
    again = read_tei(_document(found.markup))
    assert all(remark.became and remark.line for remark in found.remarks)
    # what dorse has read and written once, it reads and writes the same, or says what differs
    if told(again) == {sentence("header")} and not found.reading.faults:
        assert _as_compared(again.reading.tei()) == _as_compared(found.reading.tei())


# read without a word, since they say the same as what we write (the rows of NORMALISED without one)
_SAME = re.compile("<(head|ab|del|gap|space|add|supplied|subst|choice|lb|cb|pb)[ >/]")


def _bare(xml):
    """An edition with single spaces, single doubtful letters and no `abbr` inside `expan`."""
    return re.sub(r"[ \t\r\n]+", " ", _bared(ET.fromstring(f"<ab>{xml}</ab>"))).strip()


def _bared(element, around=""):
    inner = (element.text or "") + "".join(
        _bared(child, element.tag) + (child.tail or "") for child in element
    )
    if element.tag == "ab" or (element.tag, around) == ("abbr", "expan"):
        return inner
    if element.tag == "unclear":
        return "".join(f"<u>{each}</u>" if each.isalnum() else each for each in inner)
    if element.tag == "note":
        inner = inner.strip()
    said = "".join(f" {key}={value}" for key, value in sorted(element.items()))
    return f"<{element.tag}{said}>{inner}</{element.tag}>"


@settings(max_examples=300, deadline=None)
@given(trees.filter(lambda xml: not _SAME.search(xml)))
def test_what_is_not_told_is_kept(xml):
    xml = unicodedata.normalize("NFC", xml)
    found = read_tei(f"<ab>{xml}</ab>")
    assert found.remarks or _bare(found.reading.tei()) == _bare(xml)


@settings(max_examples=200, deadline=None)
@given(st.one_of(st.text(), st.binary(), soup))
def test_nothing_but_our_own_errors_comes_of_anything(xml):
    with suppress(BadDocument, MarkupError):
        assert isinstance(read_tei(xml).markup, str)
