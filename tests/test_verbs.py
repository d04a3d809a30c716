"""Every verb of the studio, the command that says it and the page that shows it, or why there is none."""

from __future__ import annotations

import inspect

import pytest

from catalogue.command import main
from catalogue.desk import create_app
from catalogue.studio import Studio

EASEL = "not needed at the easel"
LIST = "a part of other pages"
SECRET = "keys stay away from a screen that a client may see"
VERBS = {
    # verb: (command or the reason for none, page or the reason for none)
    "init": ("init", EASEL),
    "open": ("(every command)", "(every page)"),
    "close": ("(every command)", "(every page)"),
    "set_base": ("init", EASEL),
    "today": ("(a fact, not a verb)", LIST),
    "members": ("history", "/who"),
    "who": ("history", "/who"),
    "welcome": ("the command line takes any name", "/who"),
    "name_of": ("history", LIST),
    "read": ("show", "/work/<uuid:uuid>"),
    "document": ("show", "/reference/<uuid:uuid>"),
    "all": ("search", "/people"),
    "work": ("show", "/work/<uuid:uuid>"),
    "party": ("search", "/people/<uuid:uuid>"),
    "find_party": ("forget", LIST),
    "parties_called": ("forget", LIST),
    "bench": ("the bench is for the eye", "/"),
    "data_sheets": ("shown where a step is entered", "/work/<uuid:uuid>/enter/<field>"),
    "whereabouts": ("the bench is for the eye", "/"),
    "overdue": ("the bench is for the eye", "/"),
    "commission": ("a commission is for the eye", "/jobs/<uuid:uuid>"),
    "conflicts": ("a commission is for the eye", "/jobs/<uuid:uuid>"),
    "jobs_of": ("search", LIST),
    "check": ("check", "/work/<uuid:uuid>/open"),
    "held_to_shapes": ("check", "/work/<uuid:uuid>/open"),
    "out_of_range": ("check", "/work/<uuid:uuid>/treat"),
    "alike": ("alike", "/work/<uuid:uuid>/read/<uuid:inscription>/alike"),
    "labels_at_hand": (
        "a command waits for them",
        "/work/<uuid:uuid>/read/<uuid:inscription>/alike",
    ),
    "families": ("families", "/families"),
    "may_be_one_form": ("families", "/families"),
    "lay_beside": ("alike", "/work/<uuid:uuid>/read/<uuid:inscription>/alike"),
    "foretold": ("parse and alike say it of what is written", "/work/<uuid:uuid>/foretell"),
    "no_machine_reading": ("draft-reading", "/work/<uuid:uuid>/read"),
    "draft_reading": ("draft-reading", "/work/<uuid:uuid>/machine-draft"),
    "drafted": ("draft-reading", "/work/<uuid:uuid>/machine-draft/<sha256>/<key>"),
    "drafted_picture": ("pictures are for the eye", "/photo/<sha256>/drafted/<key>.jpg"),
    "argue": ("argue", "/work/<uuid:uuid>/argue"),
    "chronology": ("chronology", "/work/<uuid:uuid>/argue/chronology"),
    "chain": ("chain", "/work/<uuid:uuid>/argue/chain"),
    "held": ("chain", "/work/<uuid:uuid>/argue/chain"),
    "rests_on": ("chain", "/work/<uuid:uuid>/argue/chain"),
    "supports": ("chain", "/work/<uuid:uuid>/read/<uuid:inscription>"),
    "would_fall": ("chain", "/work/<uuid:uuid>/read/<uuid:inscription>/without"),
    "re_read": (
        "a new reading wants the text before one's eyes",
        "/work/<uuid:uuid>/read/<uuid:inscription>",
    ),
    "would_move": ("chain", "/work/<uuid:uuid>/read/<uuid:inscription>/without"),
    "provenance": ("provenance", "/work/<uuid:uuid>/argue/chain"),
    "preview": ("export", "/work/<uuid:uuid>/send"),
    "asks_before": ("export", "/work/<uuid:uuid>/send"),
    "sends_pictures": ("export", "/work/<uuid:uuid>/send"),
    "choices_of_pictures": ("export", "/work/<uuid:uuid>/send"),
    "rehearse": ("export", "/work/<uuid:uuid>/send"),
    "exports": ("exports", "/sent"),
    "works_found": ("export", "/send"),
    "about_person": ("about", "/people/<uuid:uuid>/everything"),
    "retention": ("retention", "/kept"),
    "holds": ("retention", "/kept"),
    "hold": ("retention", "/kept"),
    "let_go": ("retention", "/kept"),
    "forgotten": ("retention", "/kept"),
    "before_it_travels": ("borders", "/work/<uuid:uuid>/send/borders"),
    "take_provenance": (
        "provenance",
        "a text is taken in at the writing desk, not at the easel",
    ),
    "diligence": ("chain", "/work/<uuid:uuid>/argue/chain"),
    "price_keys": ("code", SECRET),
    "keep_price_key": ("code", SECRET),
    "drop_price_key": ("code", SECRET),
    "read_price_code": ("code", SECRET),
    "statements": ("statements", "/work/<uuid:uuid>/read/<uuid:inscription>"),
    "decide": ("statements", "/work/<uuid:uuid>/read/<uuid:inscription>/statements"),
    "undecide": (
        "an open question wants the text before one's eyes",
        "/work/<uuid:uuid>/read/<uuid:inscription>/statements",
    ),
    "summary": ("show", "the folder says it with pictures"),
    "history": ("history", "/work/<uuid:uuid>"),
    "save": ("add", "/work/<uuid:uuid>"),
    "release": ("releasing wants the text before one's eyes", "/work/<uuid:uuid>"),
    "new_work": ("add", "/work/new"),
    "artist": ("add", LIST),
    "date": ("(reads what was typed)", LIST),
    "day": ("(reads what was typed)", LIST),
    "place": ("(reads what was typed)", LIST),
    "taken_in": ("add", "/work/<uuid:uuid>/photos"),
    "add_photos": ("add", "/work/<uuid:uuid>/photos"),
    "add_photo": ("add", "/work/<uuid:uuid>/photos"),
    "look_at": ("photos", "/card/<token>"),
    "doings": ("photos", "/card/<token>"),
    "on_file_as": ("photos", "/card/<token>"),
    "picture_to_come": ("pictures are for the eye", "/card/<token>/<key>.jpg"),
    "add_paper": ("add", "/work/<uuid:uuid>/papers"),
    "original": ("the desk gives papers out", "/work/<uuid:uuid>/papers/<uuid:paper>/file"),
    "showing": ("pictures are for the eye", LIST),
    "picture": ("pictures are for the eye", "/photo/<sha256>/<recipe>.jpg"),
    "tiles": ("pictures are for the eye", "/photo/<sha256>/tiles.json"),
    "tile": ("pictures are for the eye", "/photo/<sha256>/<way>/<level>/<place>.jpg"),
    "laid_over": ("pictures are for the eye", "/photo/<sha256>/onto/<other>.json"),
    "prepare_pictures": ("made when they are first looked at", "/work/<uuid:uuid>/photos"),
    "search": ("search", "/find"),
    "query": ("search", "/find"),
    "crop": ("pictures are for the eye", "/photo/<sha256>/part/<box>.jpg"),
    "questions": ("shown where one types them", "/find/help"),
    "narrowed": ("search", "/find"),
    "saved_searches": ("searches", "/find/saved"),
    "saved_search": ("search", LIST),
    "save_search": ("search", "/find/saved"),
    "rename_search": ("searches", "/find/saved"),
    "remove_search": ("searches", "/find/saved"),
    "catch_up": ("import", "done by every search"),
    "rebuild": ("rebuild", "/safekeeping"),
    "ask": ("ask", "asked at the writing desk, not at the easel"),
    "formats": ("export", "/send"),
    "profiles": ("export", "/send"),
    "export": ("export", "/send"),
    "set_letterhead": ("init", EASEL),
    "set_engine": ("init", EASEL),
    "printable": ("print", "/work/<uuid:uuid>/print"),
    "print_": ("print", "/work/<uuid:uuid>/print/paper"),
    "is_book": ("import", LIST),
    "passed_over": ("import", "files are chosen one by one at the desk"),
    "foresee": ("import", "/take-in/<token>"),
    "import_": ("import", "/take-in/<token>"),
    "draft_mapping": ("import", "/take-in/<token>"),
    "read_book": ("import", "/take-in/<token>"),
    "verify": ("verify", "/safekeeping"),
    "backup": ("backup", "/safekeeping"),
    "restore": ("restore", EASEL),
    "named": ("history", LIST),
    "meant": ("withdraw", LIST),
    "at": ("adopt", LIST),
    "retold": ("history", "/work/<uuid:uuid>/history"),
    "between": ("history tells change after change", "/work/<uuid:uuid>/history/between"),
    "bring_back": ("bring-back", "/work/<uuid:uuid>/history/back"),
    "take_back": ("take-back", "/people/<uuid:uuid>/history/back"),
    "standing": ("merge", "/work/<uuid:uuid>"),
    "naming": ("merge", "/reference/<uuid:uuid>"),
    "withdraw": ("withdraw", "/work/<uuid:uuid>/aside/<act>"),
    "reinstate": ("withdraw", "/work/<uuid:uuid>/aside/<act>"),
    "sample": ("brought in by demo", "/"),
    "know_sample": ("demo", LIST),
    "set_sample_aside": ("one click on the bench", "/sample/out"),
    "bring_sample_back": ("one click on the bench", "/sample/in"),
    "people": ("search", "/people"),
    "shown": ("a line of a list is for the eye", "/"),
    "looked_at": ("export", "/work/<uuid:uuid>/send"),
    "commissions": ("a commission is for the eye", "/jobs"),
    "warm_up": ("serve", "done when the desk is opened"),
    "joining": ("merge", "/people/<uuid:uuid>/aside"),
    "doubles": ("doubles", "/people/<uuid:uuid>"),
    "tell_apart": ("doubles", "/people/<uuid:uuid>/apart"),
    "take_for_one": ("doubles", "/people/<uuid:uuid>/apart"),
    "merge": ("merge", "/people/<uuid:uuid>/aside/<act>"),
    "unmerge": ("merge", "/people/<uuid:uuid>/aside/<act>"),
    "may_become": ("adopt", "/reference/<uuid:uuid>"),
    "adopt": ("adopt", "/reference/<uuid:uuid>/adopt"),
    "forgetting": ("forget", "/people/<uuid:uuid>/aside"),
    "forget": ("forget", "/people/<uuid:uuid>/aside/<act>"),
}


def test_every_verb_is_in_the_table():
    verbs = {
        name
        for name, held in inspect.getmembers(Studio)
        if not name.startswith("_") and callable(held)
    }
    assert verbs == set(VERBS)


@pytest.mark.parametrize("verb", VERBS)
def test_the_command_and_the_page_are_there_or_a_reason_is(verb):
    command, page = VERBS[verb]
    assert command in main.commands or " " in command
    if page.startswith("/"):
        with Studio.open("memory:") as studio:
            assert page in {rule.rule for rule in create_app(studio).url_map.iter_rules()}
    else:
        assert " " in page
