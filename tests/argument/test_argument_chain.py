"""The chain of hands against the worked figures of facts/trade.md (C10, C27, 7.3) and trade_fixtures.json."""

from __future__ import annotations

import random
from datetime import date

import pytest
from chain_events import event, label, party, work_of

from catalogue.argument.chain import windows as windows_read
from catalogue.argument.chain.coverage import coverage
from catalogue.argument.chain.grades import downgraded, marks_alone, marks_of
from catalogue.argument.chain.held import held
from catalogue.argument.chain.holders import tenures, treatment_of
from catalogue.argument.chain.passages import passages
from catalogue.argument.chain.tenures import Tenure
from catalogue.argument.chain.windows import window, windows
from catalogue.argument.spans import Interval
from catalogue.errors import BadSetting, NotOnFile
from catalogue.measure import Day, read_date
from catalogue.record import Work
from catalogue.terms import group

EUROPE = "europe-1933"
# facts/trade_fixtures.json, "C10", copied: the project never reads ../shared
C10 = {
    "window": ("1933-01-30", "1945-05-08"), "window_days": 4482,
    "gap": ("1939-01-01", "1947-12-31"), "gap_days": 3287, "gap_in_window": 2320,
    "proven_days": 339, "possible_days": 2162,
}  # fmt: skip


def c10(first: str = "1931") -> Work:
    """The three holders of facts/trade.md C10; circa is one year there."""
    return work_of(
        event(1, "creation", party("M. Harrowell", "artist"), when=first, until="1934/1936", circa=1),
        event(2, "presence", party("Galerie Morvane", "dealer"), when="1937", until="1938"),
        event(3, "presence", party("private collection", "owner"), when="1948", until="1962"),
    )  # fmt: skip


@pytest.mark.parametrize("first", ["1931", "1931~"])
def test_the_figures_of_c10(first):
    work = c10(first)
    held_by = tenures(work)
    harrowell, later = passages(held_by)
    assert harrowell.gap is None
    assert not harrowell.stands
    assert later.gap_days == C10["gap_days"]
    assert iso(later.gap) == C10["gap"]
    found = coverage(held_by, window(EUROPE), work.made)
    assert (found.window.first.iso, found.window.last.iso) == C10["window"]
    assert found.days == found.window.days == C10["window_days"]
    assert found.proven_days == C10["proven_days"]
    assert found.possible_days == C10["possible_days"]
    assert found.nobody_days == C10["gap_in_window"]
    # facts/trade.md C10: 7.6 % and 48.2 %
    assert (found.proven_percent, found.possible_percent) == (7.6, 48.2)
    assert [iso(each.days) for each in found.open_stretches()] == [("1939-01-01", "1945-05-08")]
    assert found.level == "open"


def test_circa_is_one_year_where_the_studio_says_so():
    # facts/trade.md C10: "1931~" is one year either way
    span = read_date("1931~", circa=1)
    assert (span.earliest.iso, span.latest.iso) == ("1930-01-01", "1932-12-31")


def test_the_parts_of_the_proven_days():
    # facts/trade.md C10: 337 + 2 proven, 1432 + 730 possible
    work = c10()
    by_number = {
        number: coverage([each for each in tenures(work) if each.number == number], window(EUROPE))
        for number in ("E1", "E2", "E3")
    }  # fmt: skip
    assert [each.proven_days for each in by_number.values()] == [337, 2, 0]
    assert [each.possible_days for each in by_number.values()] == [1432, 730, 0]


def test_an_agent_is_no_owner():
    # facts/trade.md 7.3 example 7: "who owned it in 1929?" must not answer Keel (here of another name)
    work = work_of(
        event(1, "sale", party("Countess Ostrau", "owner"), when="by 1925", passage="direct", grade="primary"),
        event(2, "consignment", party("H. Keeler", "agent"), when="1929", passage="direct", grade="primary"),
        event(3, "sale", party("Leopold Marten", "buyer"), when="1929", grade="primary"),
    )  # fmt: skip
    held_by = tenures(work)
    found = held(held_by, Interval(Day(1929, 1, 1), Day(1929, 12, 31)))
    owners = {each.name for some in found.owners for each in some}
    assert owners == {"Countess Ostrau", "Leopold Marten"}
    assert [each.name for each in found.of("agent")[1]] == ["H. Keeler"]
    (only,) = passages(held_by)
    assert (only.before[0].name, only.after[0].name) == ("Countess Ostrau", "Leopold Marten")
    assert [each.name for each in only.beside] == ["H. Keeler"]


def test_bought_in_is_no_transfer():
    # facts/trade.md 7.3 example 5: one owner throughout, no transfer event is created
    work = work_of(
        event(1, "sale", party("Dr A. Sieberling", "owner"), when="by 1958"),
        event(2, "bought-in", party("Vaux & Daughter", "auctioneer"), party("Dr. A. Sieberling", "seller"), when="3 March 1958"),
        event(3, "sale", party("B. Oort", "buyer"), when="1961"),
    )  # fmt: skip
    held_by = tenures(work)
    links = [each for each in held_by if not each.beside and not each.named]
    assert [each.name for each in links] == ["Dr A. Sieberling", "B. Oort"]
    on_the_day = held(held_by, Day(1958, 3, 3))
    assert [each.name for each in on_the_day.of("auctioneer")[0]] == ["Vaux & Daughter"]
    assert "B. Oort" not in {each.name for each in (*on_the_day.certain, *on_the_day.possible)}


def test_an_unbroken_chain_has_neither_gaps_nor_overlaps():
    # facts/trade.md 7.3 example 1, with names of our own
    work = work_of(
        event(1, "creation", party("the artist", "artist"), when="1931", passage="direct", grade="primary"),
        event(2, "sale", party("Agnes Verlin", "buyer"), when="1931", passage="direct", grade="primary"),
        event(3, "inheritance", party("Paul Verlin", "heir"), when="1961", passage="direct", grade="primary"),
        event(4, "sale", party("Halewijck", "dealer"), when="1963", passage="direct", grade="secondary"),
        event(5, "sale", party("private collection", "buyer"), when="1963"),
    )  # fmt: skip
    found = passages(tenures(work))
    assert all(each.stands and not each.most_gap and not each.most_overlap for each in found)
    europe = coverage(tenures(work), window(EUROPE), work.made)
    assert (europe.level, europe.nobody_days) == ("accounted", 0)


def test_a_sale_whose_buyer_is_not_known_leaves_the_chain_open():
    # facts/trade.md 7.3 example 4b: a period after the sale
    work = work_of(
        event(1, "auction", party("the estate", "seller"), party("Vaux & Daughter", "auctioneer"), when="14 May 1957"),
        event(2, "sale", party("Dr A. Sieberling", "owner"), when="by 1959"),
    )  # fmt: skip
    (only,) = passages(tenures(work))
    assert not only.stands
    assert not only.downgraded
    assert (only.gap, only.most_gap) == (None, 960)  # 15 May 1957 to 30 December 1959


def test_what_is_taken_is_held_and_not_owned():
    # facts/trade.md 7.3 example 9, with names of our own
    work = work_of(
        event(1, "sale", party("Leopold Marten", "owner"), when="1921", until="1939"),
        event(2, "confiscation", party("a state authority", "authority"), when="March 1939", until="1945"),
        event(3, "recovery", party("a collecting point", "custodian"), when="1945", until="1951"),
        event(4, "restitution", party("a collecting point", "authority"), party("the heirs", "heir"), when="1951"),
    )  # fmt: skip
    found = held(tenures(work), Day(1942, 1, 1))
    assert found.owners == ((), ())
    assert [each.name for each in found.of("custodian")[0]] == ["a state authority"]
    assert len(passages(tenures(work))) == 3


def test_a_direct_passage_wants_evidence_of_grade_a_or_b():
    # facts/trade.md V4
    told = work_of(
        event(1, "sale", party("Clara Talling", "owner"), when="1922", passage="direct", grade="oral"),
        event(2, "gift", party("Ned Talling", "heir"), when="1930", grade="inferred"),
    )  # fmt: skip
    (only,) = passages(tenures(told))
    assert only.downgraded
    assert not only.stands
    assert any("E1" in said and "E2" in said for said in only.says())
    assert [(a.number, b.number) for a, b in downgraded(told)] == [("E1", "E2")]
    shown = work_of(
        event(1, "sale", party("Clara Talling", "owner"), when="1922", passage="direct", grade="oral"),
        event(2, "gift", party("Ned Talling", "heir"), when="1930", grade="secondary"),
    )  # fmt: skip
    assert passages(tenures(shown))[0].stands
    assert not list(downgraded(shown))


def test_a_label_proves_presence_and_not_ownership():
    # facts/trade.md 2.8: a label alone proves presence, not ownership
    mark = label("I1")
    work = work_of(
        event(1, "sale", party("Joan Price", "owner"), when="1 May 1934", until="3 July 1939", rests_on=mark),
        inscriptions=(mark,),
    )  # fmt: skip
    assert marks_alone(work.provenance[0], marks_of(work))
    found = held(tenures(work), Day(1936, 1, 1))
    assert [each.name for each in found.certain] == ["Joan Price"]
    assert found.owners[0] == ()
    assert [each.name for each in found.owners[1]] == ["Joan Price"]


def test_unsupported_and_doubtful_events_prove_nothing():
    # facts/trade.md 2.8: evidence must exist or the event is marked unsupported
    for more in ({"cited": False}, {"certainty": "possible"}, {"certainty": "doubtful"}):
        work = work_of(
            event(1, "sale", party("Joan Price", "owner"), when="1 May 1934", until="3 July 1939", **more)
        )  # fmt: skip
        found = held(tenures(work), Day(1936, 1, 1))
        assert not found.certain
        assert [each.name for each in found.possible] == ["Joan Price"]
        europe = coverage(tenures(work), window(EUROPE))
        assert (europe.proven_days, europe.possible_days > 0) == (0, True)


def test_an_end_that_nobody_recorded_is_told_apart():
    work = work_of(
        event(1, "sale", party("Joan Price", "owner"), when="1930"),
        event(2, "sale", party("Ann Price", "owner"), when="1950"),
    )
    first = tenures(work)[0]
    assert first.ended_by == work.provenance[1].id
    assert iso(first.ended) == ("1930-01-01", "1950-12-31")
    assert first.said_ended == Interval()
    found = coverage(tenures(work), window(EUROPE))
    assert (found.level, found.proven_days) == ("open", 0)
    assert found.unsaid_days == found.possible_days == found.days


def test_what_was_lent_stays_its_owners_and_comes_back():
    work = work_of(
        event(1, "gift", party("Orla Venn", "heir"), when="1901", until="1950"),
        event(2, "loan", party("Orla Venn", "lender"), party("the Assembly Rooms", "borrower"), when="1910"),
        event(3, "loan-return", party("Orla Venn", "owner"), when="1912"),
    )  # fmt: skip
    lent = next(each for each in tenures(work) if each.name == "the Assembly Rooms")
    assert lent.beside
    assert iso(lent.ended) == ("1912-01-01", "1912-12-31")
    found = held(tenures(work), Day(1911, 6, 1))
    assert [each.name for each in found.owners[0]] == ["Orla Venn"]
    assert [each.name for each in found.of("custodian")[0]] == ["the Assembly Rooms"]
    assert passages(tenures(work)) == ()


def test_what_is_said_to_be_lost_ends_a_holding():
    # facts/trade.md V10: an explicit gap line
    work = work_of(
        event(1, "sale", party("Joan Price", "owner"), when="1930", passage="direct", grade="primary"),
        event(2, "lost", when="1936", until="1950", passage="direct", grade="primary"),
        event(3, "sale", party("Ann Price", "owner"), when="1950"),
    )  # fmt: skip
    joan, _ = tenures(work)
    assert joan.ended.latest == Day(1936, 12, 31)
    assert joan.ended_by == work.provenance[1].id
    (only,) = passages(tenures(work))
    assert not only.stands
    assert only.gap_days == 4748  # 1937 to 1949 in whole years
    assert "recorded as a gap" in only.says()


def test_nobody_is_made_of_a_seller_not_known():
    work = work_of(
        event(1, "sale", party("Not known", "seller"), party("Ivo Dell", "buyer"), when="1936")
    )
    assert [each.name for each in tenures(work)] == ["Ivo Dell"]


def test_over_an_agent_it_may_pass_directly():
    for said, stands in (("direct", True), (None, True), ("not-known", False)):
        work = work_of(
            event(1, "sale", party("Una Moor", "owner"), when="1925", passage="direct"),
            event(2, "consignment", party("H. Keeler", "agent"), when="1929", passage=said),
            event(3, "sale", party("Ivo Dell", "buyer"), when="1929", grade="primary"),
        )  # fmt: skip
        assert passages(tenures(work))[0].stands is stands
        assert bool(list(downgraded(work))) is not stands


def test_a_seller_nobody_told_of_before_is_a_holder():
    work = work_of(
        event(
            1,
            "sale",
            party("Una Moor", "seller"),
            party("Ivo Dell", "buyer"),
            when="4 April 1936",
        )
    )
    una, _ = tenures(work)
    assert (una.name, una.named, una.direct) == ("Una Moor", True, True)
    assert una.ended == Interval(Day(1936, 4, 4), Day(1936, 4, 4))
    assert [each.name for each in held(tenures(work), Day(1935, 1, 1)).owners[1]] == [
        "Una Moor"
    ]


def test_nothing_ends_before_it_can_have_begun():
    work = work_of(
        event(1, "sale", party("Ivo Dell", "owner"), when="18 November 1903", until="1903"),
        event(2, "presence", party("Morvane", "dealer"), when="1921/1954", until="1938"),
    )
    ivo, morvane = tenures(work)
    assert iso(ivo.ended) == ("1903-11-18", "1903-12-31")
    assert iso(ivo.said_ended) == ("1903-01-01", "1903-12-31")
    assert iso(morvane.began) == ("1921-01-01", "1938-12-31")


def test_a_painting_made_later_is_not_concerned():
    # facts/trade.md US-30: works made before 1946
    late = read_date("1950")
    found = coverage((), window(EUROPE), late)
    assert (found.level, found.days) == ("not-concerned", 0)
    during = coverage((), window(EUROPE), read_date("1940"))
    assert (during.counted.earliest, during.days) == (Day(1940, 1, 1), 1955)
    assert coverage((), window(EUROPE), None).days == 4482


def test_every_kind_of_event_is_treated_once():
    listed = [each.key for each in group("provenance")]
    from catalogue.argument.chain.words import table

    held_kinds = [kind for kinds in table("kinds").values() for kind in kinds]
    assert sorted(held_kinds) == sorted(listed)
    roles = [each.key for each in group("capacity")]
    placed = [
        role for name in ("receives", "gives") for some in table(name).values() for role in some
    ]
    assert sorted(placed) == sorted(roles)
    assert treatment_of("https://example.org/other") == "ownership"


def test_no_sentence_accuses_or_certifies():
    from catalogue.places import folder

    for name in ("chain.toml", "windows.toml"):
        lines = (folder("vocab") / name).read_text("utf-8").lower().splitlines()
        # the words that somebody may have written, and that ask for a paper
        text = "\n".join(line for line in lines if not line.startswith("loss_words"))
        for word in ("stolen", "clear ", "cleared", "guarantee", "suspicious", "red flag"):
            assert word not in text, f"{name} says {word!r}"
    for each in windows():
        said = coverage((), each).says()
        assert "not an accusation" in said[-1]
        assert "no proof of title" in said[-1]


def test_an_unknown_window_names_those_there_are():
    with pytest.raises(NotOnFile, match="europe-1933"):
        window("nowhere")


def test_dates_that_contradict_each_other_break_nothing():
    work = work_of(
        event(1, "sale", party("A. Back", "owner"), when="1950", until="1940"),
        event(2, "sale", party("B. Fore", "owner"), when="1930", passage="direct", grade="primary"),
        event(3, "gift", party("C. Mid", "heir"), when="1920"),
    )  # fmt: skip
    held_by = tenures(work)
    assert held_by[0].perhaps is None
    assert passages(held_by)
    assert coverage(held_by, window(EUROPE)).days == 4482
    assert held(held_by, Day(1945, 1, 1)).certain == ()


def made(rng: random.Random, place: int, low: int, high: int) -> Tenure:
    def span() -> Interval:
        ends = sorted(rng.randint(low, high) for _ in range(2))
        return Interval(
            *(None if rng.random() < 0.1 else Day.from_ordinal(end) for end in ends)
        )

    began, ended = span(), span()
    certain = rng.choice(("certainty/certain", "certainty/possible"))
    return Tenure(
        event=f"e{place}", number=f"E{place}", name=f"N{place}", hold="owner", began=began, ended=ended,
        certainty=certain, supported=rng.random() < 0.9,
    )  # fmt: skip


def iso(days: Interval | None) -> tuple[str, str]:
    return (days.earliest.iso, days.latest.iso)


# --- vocab/windows.toml, spoilt ---------------------------------------------------------------------

ROW = {
    "key": "a", "name": "a year", "first": date(1950, 1, 1), "last": date(1950, 12, 31), "why": "w", "source": "s",
}  # fmt: skip


@pytest.fixture
def rows(monkeypatch):
    """A list of windows of one's own, read afresh before and after."""
    held: list[dict] = []
    windows.cache_clear()
    kept = windows_read.places.table

    def table(name: str) -> dict:
        return {"window": held} if name == "windows.toml" else kept(name)

    monkeypatch.setattr(windows_read.places, "table", table)
    yield held
    windows.cache_clear()


@pytest.mark.parametrize(
    "spoilt",
    [
        {"first": date(1951, 1, 1)},
        {"last": "1950"},
        {"why": None, "first": None},
        {"first": 1950},
    ],
)
def test_a_spoilt_window_is_refused_with_its_key(rows, spoilt):
    rows.append(ROW | spoilt)
    with pytest.raises(BadSetting, match=r"windows\.toml, window 'a'"):
        windows()


def test_a_window_without_a_source_and_one_given_twice_are_refused(rows):
    rows.append({key: said for key, said in ROW.items() if key != "source"})
    with pytest.raises(BadSetting, match="source"):
        windows()
    rows[:] = [ROW, ROW]
    with pytest.raises(BadSetting, match="same key"):
        windows()


def test_a_window_that_a_curator_adds_is_looked_at(rows):
    rows.append(ROW | {"default": True})
    work = work_of(event(1, "sale", party("Joan Price", "owner"), when="1949", until="1951"))
    found = coverage(tenures(work), window("a"), work.made)
    assert (found.level, found.proven_days) == ("accounted", 365)
