"""What a label says of its own date, and a repair of its own: the engine of the dating rules.

All labels, firms and addresses are invented.
"""

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from test_argument_dating_rules import as_typed

from catalogue.argument import Interval, KnownAddress, combine, date_label, date_repair, rules
from catalogue.measure import Day, find_dates
from catalogue.reading import read
from catalogue.reading.nodes import Expanded, Full, Gap, Meant, Omitted, Restored, walk


def dated(typed, **known):
    return date_label(read(typed), **known)


def keys(dating):
    return [reason.rule for reason in dating.reasons]


def the(dating, rule):
    (found,) = (reason for reason in dating.reasons if reason.rule == rule)
    return found


def iso(part):
    """Its firm days and its likely days."""
    told = (part.earliest, part.latest, part.soft_earliest, part.soft_latest)
    return tuple(day and day.iso for day in told)


# ---- only what is seen


@pytest.mark.parametrize(
    "typed",
    [
        "London S.W.[1]", "[S]W1", "S.W.[...]1", "London SW1[---]", "W100", "Lond[on], W.1[...]",
        "Dublin 1[.]", "L.N.E.[R.]", "L.N.E.R[...]", "[...]BOAC", "Gt W(estern)R(ailway)",
        "<L.M.S.>", "/* L.M.S. */", "&((L.M.S.))", "<L.M.S.=Lamps>", "Tate Gall[ery]",
        "£31.1[0].0 London", "£31.10[...] London", "Railway Executive [---]", "Paris 8[...]",
        "12/6[...] London", "12/[...] London", "London, W. [---]", "Birmingham 2[.]",
    ],
)  # fmt: skip
def test_no_evidence_from_what_is_not_on_the_label(typed):
    assert keys(dated(typed, regions=["GB", "IE", "FR"])) == []


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        ("London, W.1 [---] Tel.", "gb.post.london_numbered"),
        ("[...] L.N.E.R. and others", "gb.rail.lner"),
        ("Tate Gallery, [---]", "xx.inst.tate_gallery"),
        ("[---] Arts Council of Great Britain [---]", "xx.inst.arts_council_gb"),
        ("Arts Council of Great Bri=|tain", "xx.inst.arts_council_gb"),
        ("Reichs-|kammer der bilden-|den Künste", "ww2.rkdbk"),
        ("<London=Londno>, <W.1=S.W.1>", "gb.post.london_numbered"),
        ("L.{M.}S.", "gb.rail.lms"),
    ],
)
def test_what_is_seen_counts_beside_a_gap_and_over_a_line_end(typed, rule):
    assert rule in keys(dated(typed, regions=["GB"]))


def test_a_hyphen_at_a_line_end_joins_a_word_only_before_a_small_letter():
    assert "de.rail.bundesbahn" not in keys(dated("Bundes-|Bahn, Bonn"))


pieces = st.sampled_from(
    [text for each in rules() if each.on != "description" for text in each.fires + each.nearly]
)
damage = st.sampled_from(
    ["[...]", "[---]", "[.]", "[x]", "(abc)", "<y>", "_", "(?)", "|", " ", "[[", "]]"]
)


@st.composite
def damaged(draw):
    """Some marks in a row, with signs of damage put in anywhere."""
    typed = " ".join(as_typed(text) for text in draw(st.lists(pieces, min_size=1, max_size=3)))
    for sign in draw(st.lists(damage, max_size=4)):
        at = draw(st.integers(0, len(typed)))
        typed = typed[:at] + sign + typed[at:]
    return typed


@given(damaged())
@example("L(ondon) M.S.")
def test_a_reason_rests_on_seen_letters_alone(typed):
    reading = read(typed)
    seen = dict(zip(reading.seen_at(), reading.seen(), strict=True))
    lost = [node for node in walk(reading.tree) if isinstance(node, (Restored, Gap))]
    gaps = [node for node in lost if seen.get(node.start) == "…"]
    for reason in date_label(reading, regions=["GB", "FR", "DE", "US"]).reasons:
        assert "…" not in reason.written
        assert not [gap for gap in gaps if reason.start < gap.end and gap.start < reason.end]
        stands = "".join(seen[at] for at in range(reason.start, reason.end) if at in seen)
        assert "".join(stands.replace("-\n", "").split()) == "".join(
            reason.written.split()
        ) or ("-" in stands)


@given(pieces, st.sampled_from([Omitted, Expanded, Meant, Full]), pieces)
def test_what_the_editor_supplied_changes_nothing(seen, supplied, lost):
    signs = {Omitted: "<{}>", Expanded: "z({})", Meant: "<{}=z>", Full: "z(({}))"}
    typed = f"{as_typed(seen)} ; {signs[supplied].format(as_typed(lost))}"
    assume(any(isinstance(node, supplied) for node in walk(read(typed).tree)))
    without = dated(f"{as_typed(seen)} ; {'z' if supplied is not Omitted else ''}")
    assert keys(dated(typed)) == keys(without)


lost = st.sampled_from(
    ["1", "12", "A", "ab", ".", " 2 ", "-", "/7", "n", "Smith", "Street", "Committee", "1949", "0", "£", "Road"]
) | st.text("01Aa. -/&", min_size=1, max_size=4)  # fmt: skip


@given(pieces, st.integers(0, 200), st.integers(1, 9), lost)
def test_whatever_stood_in_a_gap_the_reasons_beside_it_hold(piece, at, length, stood):
    """No rule that fires on a damaged label is undone when the gap is filled in."""
    at %= len(piece) + 1
    before, after = as_typed(piece[:at]), as_typed(piece[at + length :])
    regions = ["GB", "FR", "DE", "US", "IE"]
    kept = {
        (reason.rule, reason.written)
        for reason in dated(f"{before}[...]{after}", regions=regions).reasons
    }
    text = read(f"{before}{as_typed(stood)}{after}").seen()
    by_key = {each.key: each for each in rules()}
    for rule, written in kept:
        if rule == "date":
            assert written in [each.span.written for each in find_dates(text)]
            continue
        # a sum whose beginning is lost is the end of a longer one, of the same money
        found = (" ".join(match[0].split()) for match in by_key[rule].found_in(text))
        assert any(written.removesuffix(".") in each for each in found)


@pytest.mark.parametrize(
    ("typed", "written"),
    [("by L.N.E.R. only", "L.N.E.R."), ("L.N.E.R, Bath", "L.N.E.R"), ("by  L.N.E.R.|Bath", "L.N.E.R."),
     ("Arts Council of|Great Britain.", "Arts Council of Great Britain")],
)  # fmt: skip
def test_a_reason_tells_the_letters_that_it_rests_on(typed, written):
    (reason,) = dated(typed).reasons
    assert reason.written == written
    assert " ".join(typed[reason.start : reason.end].replace("|", " ").split()) == written


# ---- doubt, and what was struck out


def test_a_doubtful_letter_softens_and_says_so():
    reason = the(dated("London, W.1_"), "gb.post.london_numbered")
    assert reason.strength == "soft"
    assert reason.why.endswith("Softened, because a letter that it rests on is doubtful.")
    assert dated("London, W.1_").earliest is None
    assert the(dated("L_.M.S. and L.M.S."), "gb.rail.lms").strength == "hard", (
        "a surer one stands too"
    )


def test_a_softened_rule_may_reach_back_too():
    assert the(dated("L_.M.S."), "gb.rail.lms").soft_earliest == Day(1920, 1, 1)
    assert the(dated("L.M.S."), "gb.rail.lms").soft_earliest == Day(1923, 1, 1)


def test_what_was_struck_out_still_counts_and_says_so():
    reason = the(dated("[[L.M.S.]]"), "gb.rail.lms")
    assert reason.strength == "hard"
    assert "It was struck out" in reason.why


# ---- where it comes from


@pytest.mark.parametrize(
    ("typed", "known", "strength"),
    [
        ("King Street, SW1Y 6QU", [], "soft"),
        ("King Street, London SW1Y 6QU", [], "hard"),
        ("King Street, LONDON SW1Y 6QU", [], "hard"),
        ("King Street, SW1Y 6QU, 30 gns", [], "hard"),
        ("King Street, SW1Y 6QU", ["GB"], "hard"),
        ("King Street, SW1Y 6QU", ["Europe"], "hard"),
        ("Rue Basse, Paris SW1Y 6QU", [], None),
        ("King Street, SW1Y 6QU", ["FR"], None),
        ("Rue Basse, Paris|SW1Y 6QU", [], "soft"),
        ("14 King Street, SW1Y 6QU|View of Venice", [], "soft"),
        ("~fr:rue Basse~ SW1Y 6QU", [], "soft"),
        ("Paris and London SW1Y 6QU", [], "hard"),
        ("Lon[don] SW1Y 6QU", [], "soft"),
        ("a nice frame SW1Y 6QU", [], "soft"),
    ],
)
def test_a_form_of_one_country_counts_only_where_that_country_is_named(typed, known, strength):
    found = {each.rule: each for each in dated(typed, regions=known).reasons}
    reason = found.get("gb.post.postcode_any")
    assert (reason and reason.strength) == strength
    if strength == "soft":
        assert (
            "nothing here says that it comes from where this form was used (GB)" in reason.why
        )


def test_letters_that_the_right_country_explains_are_not_offered_to_another():
    assert keys(dated("New York|BUTterfield 1234")) == ["us.tel.3L4N"]
    assert {"us.tel.3L4N", "gb.tel.director_3L4N"} <= set(keys(dated("BUTterfield 1234")))


def test_a_month_with_a_year_is_no_exchange():
    # Fact sheet: MAY 1934 is excluded on purpose, although Mayfair 1934 was a valid number.
    assert "gb.tel.director_3L4N" not in keys(dated("London, MAY 1934"))
    assert "gb.tel.director_3L4N" in keys(dated("London, MAYfair 1934"))


# ---- formerly


@pytest.mark.parametrize(
    "typed",
    [
        "formerly Tate Gallery",
        "Late of the Grosvenor Gallery",
        "formerly|Tate Gallery",
        "ex L.M.S.",
    ],
)
def test_beside_formerly_there_is_no_closing_date(typed):
    (reason,) = dated(typed).reasons
    assert (reason.latest, reason.soft_latest) == (None, None)
    assert reason.earliest is not None
    assert "Its closing date is off" in reason.why


@pytest.mark.parametrize(
    "typed", ["Tate Gallery, formerly", "formerly of Bath; Tate Gallery", "[formerly] Tate Gallery", "exTate Gallery"]
)  # fmt: skip
def test_formerly_elsewhere_changes_nothing(typed):
    assert all(each.latest for each in dated(typed).reasons)


# ---- what it dates


@pytest.mark.parametrize(
    ("typed", "techniques", "dates"),
    [
        ("London, W.1", [], {"printing"}),
        ("@p London, W.1", [], {"printing"}),
        ("@p Address: @h London, W.1", [], {"use"}),
        ("@p London, @h W.1", [], {"use"}),
        ("@p Gallery @s London, W.1", [], {"use"}),
        ("@s London, W.1", [], {"printing"}),
        ("@h London, W.1", [], {"use"}),
        ("London, W.1", ["technique/pencil"], {"use"}),
        ("London, W.1 @p Gallery", ["technique/stamped"], {"use"}),
        ("London, W.1 @h sold", ["technique/stamped"], {"printing"}),
        ("London, W.1 [[@h London, W.1]]", [], {"printing", "use"}),
    ],
)
def test_print_dates_the_printing_and_what_is_filled_in_the_use(typed, techniques, dates):
    found = dated(typed, techniques=techniques).reasons
    assert {each.dates for each in found if each.rule == "gb.post.london_numbered"} == dates


def test_an_exhibition_is_a_moment_when_the_picture_was_there():
    dating = dated("Salon d'Automne @h No. 12")
    assert dating.main.what == "presence"
    assert dating.of("printing") is None


def test_the_use_cannot_be_older_than_the_print():
    dating = dated("@p L.N.E.R. @h price £3.10.0")
    assert iso(dating.of("printing")) == (
        "1923-01-01",
        "1947-12-31",
        "1923-01-01",
        "1950-12-31",
    )
    assert iso(dating.of("use")) == ("1923-01-01", "1971-02-14", "1923-01-01", "1972-02-14")
    assert dating.earliest == Day(1923, 1, 1), "the label itself is dated by its print"


def test_a_filling_older_than_the_print_is_a_conflict_and_says_where_to_look():
    dating = dated("@p 020 7839 7551, London @h price £3.10.0")
    (clash,) = dating.conflicts
    assert (clash.first.rule, clash.second.rule, clash.firm) == (
        "gb.money.lsd",
        "gb.tel.020_78",
        True,
    )
    assert "'£3.10.0' is of 1972-02-14 at the latest, but the print beside it" in clash.words
    assert {clash.first, clash.second} <= set(dating.reasons), "the reasons themselves"
    assert dating.of("use").contradicts_itself
    assert not dating.of("printing").contradicts_itself


def test_a_print_that_contradicts_itself_says_nothing_of_the_filling():
    dating = dated("@p L.N.E.R.|British Rail @h £3.10.0")
    assert iso(dating.of("use")) == (None, "1971-02-14", None, "1972-02-14")


# ---- what the cataloguer observed


@pytest.mark.parametrize(
    ("typed", "techniques", "rule", "dates"),
    [
        ("@p Title @h(ball-point) Low Tide", [], "tech.ballpoint", "use"),
        ("@t Low Tide", [], "tech.typewriter", "printing"),
        ("@h(blue crayon) 3612", [], "ww2.munich_ccp", "presence"),
        ("Lot 12 {{barcode}}", [], "tech.barcode", "printing"),
        ("Lot 12", ["technique/ball-point"], "tech.ballpoint", "use"),
        ("Lot 12", ["technique/printed", "technique/felt-tip"], "tech.fibretip", "use"),
        ("@s 30F Lyon", [], "cv.standard_fr", "support"),
    ],
)
def test_what_was_observed_of_a_hand_or_a_drawing_counts(typed, techniques, rule, dates):
    reason = the(dated(typed, techniques=techniques), rule)
    assert reason.dates == dates
    start, end = reason.start, reason.end
    assert (start, end) == (0, 0) if techniques else typed[start:end]


@pytest.mark.parametrize(
    "typed", ["ball-point", "/* ball-point */", "@h(pencil) ball-point", "@h 3612"]
)
def test_words_on_the_label_and_notes_are_no_observations(typed):
    assert keys(dated(typed)) == []


# ---- alternatives


def test_alternatives_are_joined_before_they_meet_other_evidence():
    dating = dated("By Appointment to H.M. the King")
    assert [(span.earliest and span.earliest.iso, span.latest and span.latest.iso) for span in dating.spans] == [
        ("1714-08-01", "1837-06-20"), ("1901-01-22", "1952-02-06"), ("2022-09-08", None),
    ]  # fmt: skip
    assert {each.one_of for each in dating.reasons} == {"gb.royal.king"}


def test_other_evidence_chooses_among_alternatives():
    dating = dated(
        "By Appointment to H.M. the King|14 Tanner Street, London, W.1|L.C.C. No. 12"
    )
    assert dating.spans == (Interval(Day(1917, 3, 1), Day(1952, 2, 6)),)
    assert dating.conflicts == ()


def test_alternatives_that_all_fail_are_a_conflict_with_the_nearest():
    dating = dated("British Rail|By Appointment to H.M. the King")
    (clash,) = dating.conflicts
    assert (clash.first.rule, clash.second.rule) == ("gb.royal.king#1", "gb.rail.br65")
    assert dating.main.contradicts_itself


def test_of_alternatives_only_what_the_hard_reasons_leave_can_be_in_conflict():
    dating = dated("V.A.T.|By appointment to H.M. the King|Dublin, Éire")
    pairs = [(clash.first.rule, clash.second.rule, clash.firm) for clash in dating.conflicts]
    assert pairs == [("ie.name.eire", "gb.royal.king#2", False)]
    assert iso(dating) == ("2022-09-08", None, "2022-09-08", None)


# ---- what several reasons say together


def test_hard_and_soft_are_kept_apart():
    dating = dated("14 Tanner Street, London, W.1")
    # firm: not before 1 March 1917; the dotted form faded after 1974, fifteen years' margin
    assert iso(dating) == ("1917-03-01", None, "1917-03-01", "1989-12-31")


def test_no_reason_leaves_every_day():
    dating = dated("Low Tide at the Ferry Steps")
    assert dating.spans == (Interval(),)
    assert (dating.parts, dating.reasons, dating.conflicts) == ((), (), ())


def test_forms_that_meet_only_where_the_older_was_used_up_say_so():
    dating = dated("L.M.S. Railway|British Railways")
    assert dating.spans == (Interval(Day(1948, 1, 1), Day(1950, 12, 31)),)
    assert "where the older was still being used up" in dating.main.says[0]
    assert dating.conflicts == ()


def test_contradictions_are_shown_in_pairs_and_never_averaged():
    dating = dated("L.N.E.R.|British Rail|C.E.M.A.|14 Tanner Street, London W.1")
    pairs = {(clash.first.rule, clash.second.rule) for clash in dating.conflicts if clash.firm}
    assert pairs == {("gb.rail.lner", "gb.rail.br65"), ("xx.inst.cema", "gb.rail.br65")}
    assert dating.spans == ()
    assert (dating.earliest, dating.latest) == (None, None)
    assert any("contradict" in said for said in dating.main.says)


def test_what_remains_without_the_conflict_is_given_as_likely_and_said():
    dating = dated("L.N.E.R.|British Rail|14 Tanner Street, London W.1")
    assert (dating.soft_earliest, dating.soft_latest) == (Day(1917, 3, 1), Day(1989, 12, 31))
    assert "Left out of the likely span" in dating.main.says[1]
    assert "'British Rail', 'L.N.E.R.'" in dating.main.says[1]


def test_of_a_hard_and_a_soft_reason_in_conflict_the_hard_one_stays():
    dating = dated("London, W.1 and 020 7839 7551")
    (clash,) = dating.conflicts
    assert not clash.firm
    assert iso(dating) == ("1999-06-01", None, "1999-06-01", None)


@given(st.lists(pieces, max_size=4))
def test_a_firm_day_satisfies_every_hard_reason(texts):
    dating = dated(" ; ".join(map(as_typed, texts)) or "x", regions=["GB"])
    for part in dating.parts:
        for span in part.spans if part.what != "presence" else ():
            for day in filter(None, (span.earliest, span.latest)):
                groups = {}
                for each in part.reasons:
                    groups.setdefault(each.one_of or id(each), []).append(each)
                for group in groups.values():
                    if any(each.strength == "hard" for each in group):
                        inside = (each.reach.within(Interval(day, day)) for each in group)
                        assert any(inside)
        firm = [
            clash
            for clash in dating.conflicts
            if clash.firm and clash.second.dates == part.what
        ]
        if part.what == "printing":
            assert bool(firm) == part.contradicts_itself


@given(st.lists(pieces, min_size=1, max_size=4))
def test_the_order_of_the_reasons_does_not_matter(texts):
    dating = dated(" ; ".join(map(as_typed, texts)), regions=["GB"])
    turned = combine(reversed(dating.reasons))
    assert [(part.what, part.spans, part.soft_spans) for part in turned.parts] == [
        (part.what, part.spans, part.soft_spans) for part in dating.parts
    ]


# ---- firms at their addresses


def at(text, earliest=1929, latest=1947, party="p1", name="Morvane"):
    return KnownAddress(party, name, text, Day(earliest, 1, 1), Day(latest, 12, 31))


def test_the_worked_figures_of_a_firm_an_address_and_a_telephone():
    # Trade sheet, C6: firm name 1921-1938; address 1929-1947; exchange word and four figures from
    # 1927 -> 1929-1938; widened by a year 1928-1939 (accuracy note of the National Portrait
    # Gallery's directory of suppliers).
    firm = KnownAddress("p1", "Morvane & Trew", "", Day(1921, 1, 1), Day(1938, 12, 31))
    label = "Morvane & Trew|14 Tanner Street, London|Tel. MAYfair 3021"
    dating = dated(label, addresses=[firm, at("14 Tanner Street, London")])
    assert {"name:p1", "address:p1", "gb.tel.director_3L4N"} <= set(keys(dating))
    assert iso(dating) == ("1929-01-01", "1938-12-31", "1928-01-01", "1939-12-31")
    assert dating.main.what == "printing"


@pytest.mark.parametrize(
    ("on_file", "typed"),
    [
        ("14 Tanner Street, London", "14, TANNER ST."),
        ("14 Tanner Street, London", "14 Tanner|Street"),
        ("14, rue des Tanneurs, Gand", "rue des Tanneurs 14"),
        ("Gerbergasse 14, Ulm", "14 Gerbergasse"),
        ("Gerberstraße 14, Ulm", "Gerberstr. 14"),
        ("Hollis House, 14a Tanner Road", "14A Tanner Rd"),
        ("12 Mill Lane; 14 Tanner Street", "14 Tanner Street"),
    ],
)
def test_a_known_address_is_found_however_it_is_spelt(on_file, typed):
    reason = the(dated(typed, addresses=[at(on_file)]), "address:p1")
    assert (reason.earliest, reason.soft_latest) == (Day(1929, 1, 1), Day(1948, 12, 31))
    assert reason.strength == "hard"
    assert "Morvane was at" in reason.why


@pytest.mark.parametrize(
    ("on_file", "typed"),
    [
        ("14 Tanner Street", "114 Tanner Street"),
        ("14 Tanner Street", "14 Tannery Street"),
        ("14 Tanner Street", "1[4] Tanner Street"),
        ("14 Tanner Street", "[...]14 Tanner Street"),
        ("14 Tanner Street", "14 Tan[...] Street"),
        ("14 Tanner Street", "Tanner Street"),
        ("Tanner Street", "Tanner Street"),
        ("14", "14"),
        ("", "Hollis"),
    ],
)
def test_another_address_or_a_part_of_one_is_not_met(on_file, typed):
    assert keys(dated(typed, addresses=[at(on_file)])) == []


def test_two_firms_at_one_address_are_alternatives():
    known = [
        at("14 Tanner St", 1900, 1910, "p1"),
        at("14 Tanner Street", 1929, 1947, "p2", "Trew"),
    ]
    dating = dated("14 Tanner Street", addresses=known)
    assert keys(dating) == ["address:p1", "address:p2"]
    assert [span.earliest.year for span in dating.spans] == [1900, 1929]
    assert dating.conflicts == ()


def test_a_doubtful_address_is_soft():
    assert (
        the(dated("14_ Tanner Street", addresses=[at("14 Tanner St")]), "address:p1").strength
        == "soft"
    )


# ---- dates that are written there


@pytest.mark.parametrize(
    ("typed", "dates", "earliest", "latest"),
    [
        ("Printed 12 April 1903", "printing", "1903-04-12", None),
        ("Spring Show 1951", "printing", "1951-01-01", None),
        ("Harvest in the 1880s", "printing", "1880-01-01", None),
        ("@p Received @h 12 iv 1903", "use", "1903-04-12", "1903-04-12"),
        ("@p Received @h April 1903", "use", "1903-04-01", "1903-04-30"),
        ("@p Title @h Harvest 1887", "use", "1887-01-01", None),
        ("@h 12/4/07 @p 14 Tanner Street, London, W.1", "use", "2007-04-12", None),
        ("Salon d'Automne|Paris 1911", "printing", "1911-01-01", None),
    ],
)
def test_a_written_date_is_a_reason(typed, dates, earliest, latest):
    (reason,) = (each for each in dated(typed).reasons if each.rule == "date")
    told = (reason.dates, reason.earliest.iso, reason.latest and reason.latest.iso)
    assert told == (dates, earliest, latest)
    assert reason.strength == "soft", "it may be of something else, or announced ahead"
    assert typed[reason.start : reason.end] == reason.written


def test_a_date_beside_an_exhibition_is_of_the_exhibition_too():
    dating = dated("Salon d'Automne, Paris 1911|Spring Show 1925")
    shown = [
        each for each in dating.reasons if each.rule == "date" and each.dates == "presence"
    ]
    assert [(each.written, each.latest.year) for each in shown] == [("1911", 1911)]
    assert dating.of("presence").soft_latest == Day(1912, 12, 31)
    assert dating.of("printing").soft_earliest == Day(1924, 1, 1)


def test_two_exhibitions_are_two_moments_and_no_contradiction():
    dating = dated("Salon d'Automne, Paris 1911; Grosvenor Gallery; Biennale di Venezia 1920")
    assert dating.of("presence").soft_spans == (
        Interval(Day(1910, 1, 1), Day(1912, 12, 31)),
        Interval(Day(1919, 1, 1), Day(1921, 12, 31)),
    )
    assert [each for each in dating.conflicts if each.first.dates == "presence"] == []


def test_a_label_may_have_been_used_on_several_days():
    dating = dated("@p L.N.E.R. @h sent 12 iv 1927, again 3 May 1931")
    assert dating.conflicts == ()
    assert [span.earliest for span in dating.of("use").soft_spans] == [
        Day(1926, 4, 12), Day(1930, 5, 3),
    ]  # fmt: skip


def test_of_the_dates_in_print_the_latest_says_all():
    (reason,) = dated("Founded 12 April 1880. Spring Show, 3 May 1903. Since 1850").reasons
    assert reason.written == "3 May 1903"


def test_a_date_that_no_exhibition_named_beside_it_can_have_is_a_conflict():
    (clash,) = dated("British Institution, 1911").conflicts
    assert (clash.first.rule, clash.second.rule) == ("xx.inst.british_institution", "date")


@pytest.mark.parametrize(
    "typed",
    [
        "3.5.07", "before 1907", "No. 1887", "18[87]", "18[...]", "1887[...]", "[---] 1887", "1887, [---]",
        "12 April 19[03]", "<1903>", "/* 1903 */", "London, MAYfair 1934", "London, 029 2012 3456",
    ],
)  # fmt: skip
def test_no_date_from_a_number_an_open_century_or_what_is_lost(typed):
    assert "date" not in keys(dated(typed))


# ---- repairs


@pytest.mark.parametrize(
    ("materials", "kind", "firm", "likely"),
    [
        (["material/eva-adhesive"], "repair/synthetic-lining", (1967, None), (1967, None)),
        (["material/sailcloth", "material/wax-resin"], None, (1951, None), (1951, 1990)),
        (["polyester sailcloth"], None, (1951, None), (1951, None)),
        ([], "repair/wax-resin-lining", (None, None), (1840, 1990)),
        (["part/staple"], None, (None, None), (1935, None)),
        (
            ["material/linen", "material/animal-glue"],
            "repair/fabric-patch",
            (None, None),
            (None, None),
        ),
        (["no staples", "material/nonsense"], None, (None, None), (None, None)),
    ],
)
def test_a_repair_is_not_older_than_its_materials(materials, kind, firm, likely):
    dating = date_repair(materials, kind=kind)
    years = tuple(day and int(day[:4]) for day in iso(dating))
    assert (years[:2], years[2:]) == (firm, likely)
    assert all(part.what == "repair" for part in dating.parts)


def test_a_method_that_came_to_a_country_later_counts_where_that_is_known():
    assert date_repair(["wax-resin lining"], regions=["US"]).soft_earliest == Day(1901, 1, 1)
    assert date_repair(["wax-resin lining"]).soft_earliest == Day(1840, 1, 1)


# ---- nothing raises


@given(st.text(max_size=60))
def test_any_text_can_be_dated(typed):
    dating = dated(typed) if typed else combine([])
    for reason in dating.reasons:
        assert 0 <= reason.start <= reason.end <= len(typed)
    assert date_repair([typed]).conflicts == ()
