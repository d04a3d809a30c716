"""`dorse parse KIND`: a filter from texts to what they mean, one line in, one JSON object out.

It needs no studio, never ends in failure over a text, and can be tried with nothing but a pipe.
"""

from __future__ import annotations

import sys
from functools import partial
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from catalogue.parsing import Reader

json_lines = click.option(
    "--jsonl", is_flag=True, help='Read JSON lines with a "text", not plain lines.'
)


class WithTheCard(click.Command):
    """The command whose help ends with the typist's card of the signs."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the card as it is, unwrapped."""
        from catalogue.reading import help_card

        formatter.write("\n" + help_card() + "\n")


@click.group()
def parse() -> None:
    """Read texts from stdin, one a line, and write what they mean as JSON lines.

    Text is UTF-8. Each answer has `text`, as it came, and `rest`, the characters that were not
    understood. Exit 0 whatever the texts are.
    """


@parse.command(cls=WithTheCard)
@json_lines
def labels(jsonl: bool) -> None:
    """Labels in the markup: what is seen, what it says, words, TEI, tree, and errors.

    Type what stands on the object, and the signs below for what is damaged, doubtful or supplied.
    A sign typed wrongly is kept as a letter and listed under errors. In a plain line | is a line
    end of the label; a text of --jsonl may have real ones too.
    """
    from catalogue.parsing import label

    _filter(label, jsonl)


@parse.command()
@json_lines
@click.option(
    "--circa", default=5, show_default=True, type=click.IntRange(0, 100),
    help="How many years about may mean, either way.",
)  # fmt: skip
def dates(jsonl: bool, circa: int) -> None:
    """Dates as people write them: EDTF, first and last day, the rule, or why there is none."""
    from catalogue.parsing import date

    _filter(partial(date, circa=circa), jsonl)


@parse.command()
@json_lines
def sizes(jsonl: bool) -> None:
    """Sizes within texts, in millimetres; where no unit is written nothing is guessed."""
    from catalogue.parsing import sizes as sizes_in

    _filter(sizes_in, jsonl)


@parse.command()
@json_lines
def money(jsonl: bool) -> None:
    """Prices within texts: the money, the exact sum, and the years in which it was written so."""
    from catalogue.parsing import money as money_in

    _filter(money_in, jsonl)


@parse.command()
@json_lines
def names(jsonl: bool) -> None:
    """Names, one a line: words of attribution, family and given name, titles, years, kind."""
    from catalogue.parsing import names as name_in

    _filter(name_in, jsonl)


@parse.command()
@json_lines
def inscriptions(jsonl: bool) -> None:
    """A cataloguer's field of inscriptions, split into marks: kind, place, text and its lines.

    A semicolon or, in a text of --jsonl, a line end begins the next mark; " / " is a line end on
    the object.
    """
    from catalogue.parsing import inscriptions as inscriptions_in

    _filter(inscriptions_in, jsonl)


@parse.command()
@json_lines
def provenance(jsonl: bool) -> None:
    """A provenance as museums publish it: steps with parties, dates, lots and prices, and notes.

    A semicolon says that one followed directly on the other, a full stop that it did not or is
    not known. Life dates and dealers may stand in either sort of bracket.
    """
    from catalogue.parsing import provenance as provenance_in

    _filter(provenance_in, jsonl)


def _filter(reader: Reader, jsonl: bool) -> None:
    from catalogue.parsing import answers

    for answer in answers(sys.stdin.buffer, reader, jsonl=jsonl):
        sys.stdout.buffer.write(answer)
        sys.stdout.buffer.flush()  # whoever asks line by line gets each answer at once
