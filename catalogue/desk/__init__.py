"""The desk: the studio in a browser. Each page asks the studio one thing and shows it.

guard.py      the key, the hosts, the headers, the limits
door.py       the door for other machines: password.py what is kept of the password, knocking.py how often
              one may try, own_addresses.py where this machine is reached, lines.py how much
              strangers may send
person.py     who is working: chosen once, remembered
asking.py     what every page asks: the studio, who is at work, a work by its address
forms.py      what was typed into a form, as values
bench.py      the bench; choosing.py asks which work is to be read, checked, treated, argued
finding.py    the search: cards.py what was found, damage.py a text with its damage
folder.py     a work's folder; facts.py holds its small forms
leaves.py     the leaves Check, Treat, Argue; shown.py puts what is on file in words, calling.py names it
values.py     the forms in which values are entered, each made of the value's own field rules:
              layout.py (how a field is typed), typed.py (what was typed), filling.py (the value it means),
              blanks.py (the form to be drawn)
stops.py      what the order of work says of a step, and the way to mend it
records.py    the forms of a commission, of a person or firm
papers.py     papers taken in and given out
printing.py   receipts, reports and labels, made as files
slip.py       the reading page: photo and slip; frame.py is the frame drawn on the photo
foretelling.py  what a reading would bring, while it is typed; machine_drafts.py a draft to begin from
statements.py what a reading says, to accept, correct or reject
beside.py     readings beside each other; resting.py what rests on an inscription, and falls without it
arriving.py   new works and their photographs; scaling.py makes a photograph a measure
sorting.py    a card of photographs sorted by time onto works; card_tray.py is where they wait,
              sorted_onto.py what goes where, card_errands.py what takes long
taking.py     records taken in by the browser; tray.py is where the files wait
sending.py    what leaves, and what stays home
retaining.py  how long what is kept, and everything on one person
borders.py    what the law may ask before a work travels or is sold
mapping.py    the condition map: looked at, drawn on, asked what a region would cover
comparing.py  two checks beside each other
families.py   labels like one; the families that people made of them
outlines.py   outlines in mm as they are typed
arguing.py    what labels and repairs prove of their own years
chronology.py when everything happened; chain.py through whose hands; strata.py what lies over what;
              leading.py where each value is shown
looking_over.py  what is wrong, missing or open about a work
past.py       a record's history, and the ways back
setting_aside.py  out of the lists, merged, forgotten; records from elsewhere made our own
aside.py      people, jobs, other people's records, the card of signs
first_minute.py  the sample studio and an empty one, explained; the sample brought in and left out
helping.py    help: how places are measured, what to mind, every key
safekeeping.py  a copy to carry away, everything checked, the search made anew
under_way.py  work that takes long: how far it is, and where it leads on
pictures.py   the photographs themselves
refusals.py   what went wrong, in words
drafts.py     forms kept as one types; together.py who else has a record open
serving.py    the server on this machine
"""

from __future__ import annotations

from collections.abc import Iterable

from flask import Flask
from jinja2 import StrictUndefined

from catalogue.desk import (
    arguing,
    arriving,
    aside,
    bench,
    beside,
    borders,
    chain,
    choosing,
    chronology,
    comparing,
    door,
    drafts,
    families,
    finding,
    first_minute,
    folder,
    foretelling,
    guard,
    helping,
    leaves,
    looking_over,
    machine_drafts,
    mapping,
    papers,
    past,
    person,
    pictures,
    printing,
    records,
    refusals,
    resting,
    retaining,
    safekeeping,
    scaling,
    sending,
    setting_aside,
    slip,
    sorting,
    statements,
    strata,
    taking,
    together,
    under_way,
    values,
)
from catalogue.desk.asking import OPEN_STUDIO, shown_everywhere
from catalogue.pictures.words import dated
from catalogue.places import folder as folder_named
from catalogue.studio import Studio
from catalogue.terms import group, in_order, label
from catalogue.wording import said

PAGES = (
    bench.pages, finding.pages, folder.pages, slip.pages,
    foretelling.pages, machine_drafts.pages, beside.pages, arriving.pages, sending.pages,
    aside.pages, past.pages, setting_aside.pages, pictures.pages, person.pages, leaves.pages, values.pages,
    papers.pages, records.pages, looking_over.pages, statements.pages,
    arguing.pages, scaling.pages, mapping.pages, comparing.pages, printing.pages,
    chronology.pages, chain.pages, strata.pages, resting.pages, families.pages,
    borders.pages, choosing.pages, retaining.pages, taking.pages, drafts.pages,
    together.pages, under_way.pages, first_minute.pages, helping.pages, safekeeping.pages,
    door.pages, sorting.pages,
)  # fmt: skip


def create_app(studio: Studio, *, hosts: Iterable[str] = ()) -> Flask:
    """The desk of an open studio; `hosts` are further names under which this machine is asked."""
    templates = folder_named("templates")
    app = Flask(
        __name__, template_folder=str(templates), static_folder=str(templates / "static")
    )
    app.extensions[OPEN_STUDIO] = studio
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters["term"] = label
    app.jinja_env.filters["said"] = said
    app.jinja_env.filters["what"] = dated
    app.jinja_env.globals["terms"] = group
    app.jinja_env.globals["scale"] = in_order
    app.jinja_env.globals["keys_about"] = helping.keys_about
    app.context_processor(shown_everywhere)
    guard.protect(app, studio.folder, hosts)
    door.hang(app)
    guard.demand_tokens(app)
    refusals.explain_in(app)
    under_way.open_in(app, studio)
    for each in PAGES:
        app.register_blueprint(each)
    return app
