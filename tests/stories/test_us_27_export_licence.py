"""US-27, export licence pre-check, and US-28, import: likely, not likely or ask, with rule, version and facts.

The stories, their figures and sources are those of the trade sheet, section 1.7 and C25.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from click.testing import CliRunner
from made_records import WHO

from catalogue.argument.borders import Journey
from catalogue.command import main
from catalogue.measure import Day, read_date
from catalogue.studio import Studio


def of_1887(studio):
    read = studio.work("2026-041")
    return studio.save(
        replace(read.record, made=read_date("1887"), materials=("material/oil-paint",)),
        who=WHO,
        read=read,
    ).record


def asked(studio, **facts):
    facts = {"on": Day(2026, 11, 29), **facts}
    return {
        each.key: each for each in studio.before_it_travels(of_1887(studio), Journey(**facts))
    }


def test_it_says_likely_with_the_rule_its_version_and_the_facts(studio):
    found = asked(studio, leaves="FR", goes_to="US", value=Decimal(200_000), currency="EUR")
    eu = found["eu-2009"]
    assert eu.answered == "likely"
    assert "116/2009" in eu.rule
    assert eu.version
    assert "It is 139 years old; the rule counts from 50." in eu.because
    # national lists are stricter: always ask
    assert found["FR"].answered == "ask the authority"


def test_a_value_that_nobody_gave_is_asked_for_and_never_assumed(studio):
    assert asked(studio, leaves="BE", goes_to="US")["eu-2009"].answered == "ask the authority"


def test_leaving_for_a_time_counts_as_well(studio):
    facts = {"value": Decimal(200_000), "currency": "EUR", "temporary": True}
    assert asked(studio, leaves="BE", goes_to="US", **facts)["eu-2009"].answer == "likely"


def test_us_28_what_is_asked_when_it_comes_in(studio):
    found = asked(studio, leaves="US", goes_to="BE", value=Decimal(20_000), currency="EUR")[
        "eu-2019-c"
    ]
    assert found.answered == "not likely"  # not older than 200 years
    assert "the last country where it lay lawfully for more than five years" in " ".join(
        found.because
    )


def test_the_command_asks_the_same(tmp_path):
    with Studio.init(tmp_path / "s") as studio:
        made = studio.new_work(title="Kiln in Snow", artist="Ada Ferrow", made="1887", who=WHO)
    told = CliRunner().invoke(
        main,
        ["--studio", str(tmp_path / "s"), "borders", made.record.number, "--from", "be", "--to", "us",
         "--value", "200000 EUR", "--on", "2026-11-29"],
    )  # fmt: skip
    assert told.exit_code == 0, told.output
    assert "Does it need a licence to leave? Likely." in told.output
    assert "never legal advice" not in told.output
    assert "not legal advice" in told.output


@pytest.mark.parametrize(
    "wrong", [["--from", "Belgium"], ["--value", "plenty"], ["--on", "soon"]]
)
def test_what_was_typed_wrongly_is_told_in_words(tmp_path, wrong):
    with Studio.init(tmp_path / "s") as studio:
        studio.new_work(title="Kiln in Snow", artist=None, made=None, who=WHO)
    told = CliRunner().invoke(
        main, ["--studio", str(tmp_path / "s"), "borders", "Kiln", *wrong]
    )
    assert told.exit_code == 1
    assert told.output.startswith("dorse: ")
