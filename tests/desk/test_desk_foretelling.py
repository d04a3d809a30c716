"""What a reading would bring, on the reading page: asked for while one types, or by a button without script."""

from __future__ import annotations

import pytest
from desk_studio import HOSTILE, filled

from catalogue.desk import create_app
from catalogue.studio import Studio

TYPED = "@p Harkwick & Son | 14 Tanner Street, London, W.1 | No @h 2217 @p Date @h 3 May 1931"


@pytest.fixture
def desk():
    with Studio.open("memory:") as studio:
        ids = filled(studio)
        client = create_app(studio).test_client()

        class Asked:
            work = ids["low_water"]
            label = ids["label"]
            opened = studio

            @staticmethod
            def token() -> str:
                page = client.get("/who").text
                return page.partition('name="csrf-token" content="')[2].partition('"')[0]

            def post(self, path, **fields):
                return client.post(path, data={"csrf_token": self.token(), **fields})

            def foretell(self, **fields):
                return self.post(
                    f"/work/{self.work}/foretell", **{"face": "face/back", **fields}
                )

        asked = Asked()
        asked.post("/who", who=ids["member"])
        yield asked


def test_it_tells_statements_years_and_reasons_with_their_why(desk):
    piece = desk.foretell(markup=TYPED, kind="inscription/dealer-label").text
    assert "London, W.1" in piece
    assert (
        "from 1 March 1917" in piece
    )  # rule gb.post.london_numbered of vocab/dating, with its source there
    assert "why?" in piece
    assert '<svg xmlns="http://www.w3.org/2000/svg" class="bars"' in piece
    assert "<form" not in piece
    assert " style=" not in piece


def test_nothing_of_it_is_kept(desk):
    before = desk.opened.ledger.last(), len(desk.opened.ledger.drafts())
    desk.foretell(markup=TYPED, kind="inscription/dealer-label", inscription=desk.label)
    assert (desk.opened.ledger.last(), len(desk.opened.ledger.drafts())) == before


@pytest.mark.parametrize(
    "fields",
    [
        {"markup": "", "kind": "inscription/label"},
        {"markup": TYPED, "kind": "inscription/none-such", "face": "nowhere"},
        {"markup": TYPED, "width_mm": "wide", "complete_percent": "-5", "orientation": "x"},
        {"markup": HOSTILE * 3, "kind": "inscription/signature"},
        {"markup": "[[[[ [a(((", "techniques": "technique/none-such"},
        {},
    ],
)
def test_whatever_else_stands_on_the_slip_it_answers(desk, fields):
    answer = desk.foretell(**fields)
    assert answer.status_code == 200
    assert "<script>" not in answer.text


def test_a_text_too_long_for_a_label_is_left_until_it_is_saved_and_one_too_long_to_save_stays_typed(
    desk,
):
    assert "once it is saved" in desk.foretell(markup="Lot 7 " * 1500).text
    page = desk.post(
        f"/work/{desk.work}/read", markup="x" * 1_100_000, kind="inscription/label", face="face/back",
        revision="1",
    )  # fmt: skip
    assert page.status_code == 422
    assert "x" * 1_100_000 in page.text
    assert "Not saved" in page.text


def test_what_is_no_work_and_no_inscription_is_said_in_words(desk):
    assert desk.post("/work/00000000-0000-4000-8000-000000000000/foretell").status_code == 404
    assert desk.foretell(inscription="00000000-0000-4000-8000-000000000000").status_code == 404


def test_without_script_the_button_shows_the_same(desk):
    page = desk.post(
        f"/work/{desk.work}/read", markup=TYPED, kind="inscription/dealer-label", look="yes",
        face="face/back", revision=str(desk.opened.read(f"work/{desk.work}").revision),
    ).text  # fmt: skip
    piece = desk.foretell(markup=TYPED, kind="inscription/dealer-label").text
    assert piece.strip() in page
