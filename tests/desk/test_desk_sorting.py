"""A card at the desk: laid on the tray, sorted, taken in work by work; what is refused, broken off, sent twice."""

from __future__ import annotations

import io
import os
import re
import time
import zlib

from desk_studio import picture
from PIL import Image
from test_desk_arriving import png_bomb

from catalogue.desk import card_tray, sorting, under_way
from catalogue.places import table

DAY = "2026:03:02"


def shot(taken="", colour="#8a744c", size=(80, 60)) -> bytes:
    colour = {"aaa": "#aa0000", "bbb": "#00bb00", "ccc": "#0000cc"}.get(colour, colour)

    exif = Image.Exif()
    if taken:
        exif.get_ifd(34665)[36867] = (
            taken  # DateTimeOriginal, CIPA DC-008 Exif 2.32 (from memory)
        )
    file = io.BytesIO()
    Image.new("RGB", size, colour).save(file, "JPEG", exif=exif)
    return file.getvalue()


def settled(desk):
    """Wait for what is under way, as a person would."""
    desk.app.extensions[under_way.ERRANDS].wait(30)


def lay(desk, files, **more):
    """Files laid on the tray in one form, as a browser without scripts does it; the card's page."""
    desk.begin()
    data = {"csrf_token": desk.token("/who"), **more}
    data["files"] = [(io.BytesIO(content), name) for name, content in files]
    answer = desk.client.post("/card", data=data, content_type="multipart/form-data")
    if answer.status_code != 303:
        return answer, None
    page = answer.headers["Location"]
    assert desk.client.get(page).status_code == 302  # to the errand that looks at them
    settled(desk)
    shown = desk.client.get(page)
    assert shown.status_code == 200
    return shown, page


def keys(shown) -> dict[str, str]:
    """Each photograph's key by its name, as the page has them."""
    return {
        name.strip(): key
        for key, name in re.findall(r'name="take" value="(\w+)"[^>]*> ([^<]+)<', shown.text)
    }


def send(desk, page, **fields):
    answer = desk.post(page, **fields)
    settled(desk)
    return answer


def files_kept(desk):
    return [each for each in desk.studio.folder.glob("files/*/*") if each.is_file()]


def two_sittings():
    return [
        ("IMG_1.JPG", shot(f"{DAY} 09:00:00", "#111111")),
        ("IMG_2 back.JPG", shot(f"{DAY} 09:01:00", "#222222")),
        ("IMG_3.JPG", shot(f"{DAY} 12:00:00", "#333333")),
    ]


def test_a_card_is_sorted_by_time_and_taken_in_work_by_work(desk):
    shown, page = lay(desk, two_sittings())
    key = keys(shown)
    assert shown.text.count('class="slip sitting"') == 2
    low, ferry = desk.work(desk.low_water), desk.work(desk.ferry)
    first, third = key["IMG_1.JPG"], key["IMG_3.JPG"]
    seq = desk.studio.ledger.last()[0]
    answer = send(
        desk, page, take_in="1", take=list(key.values()), shown=list(key.values()),
        **{f"work-{first}": low.number, f"work-{third}": ferry.number,
           f"all-light-{first}": "light/raking", f"face-{key['IMG_2 back.JPG']}": "face/back"},
    )  # fmt: skip
    assert answer.status_code == 303
    # what is done at once leads to what went where, what takes long to how far it is
    assert answer.headers["Location"].startswith((f"{page}/told", "/under-way/"))
    assert desk.studio.ledger.last()[0] == seq + 2
    new = desk.work(desk.low_water).photos[len(low.photos) :]
    assert [(each.file_name, each.face, each.light, each.view, each.taken.iso) for each in new] == [
        ("IMG_1.JPG", None, "light/raking", "view/not-said", "2026-03-02"),
        ("IMG_2 back.JPG", "face/back", "light/raking", "view/not-said", "2026-03-02"),
    ]  # fmt: skip
    assert {each.by for each in new} == {f"party/{desk.member}"}
    assert desk.studio.ledger.read_file(new[0].sha256) == two_sittings()[0][1]
    assert len(desk.work(desk.ferry).photos) == len(ferry.photos) + 1
    told = desk.client.get(f"{page}/told").text
    assert low.number in told
    assert ferry.number in told
    assert f'href="/work/{low.id}/read"' in told, "from the card straight to reading"
    assert card_tray.waiting(desk.studio.folder) == []


def test_a_proposal_says_why_and_what_is_not_known_is_left_open(desk):
    shown, _ = lay(desk, [("a.jpg", shot("2026:01:05 10:00:00"))])
    # both works came into the house on 5 January 2026: none is proposed
    assert "come into question alike" in shown.text
    assert "it came into the house that day" in shown.text
    assert re.search(r'name="work-\w+" list="numbers" value=""', shown.text)


def test_a_new_work_may_be_opened_from_a_sitting(desk):
    shown, page = lay(desk, [("a.jpg", shot(f"{DAY} 10:00:00"))])
    own = keys(shown)["a.jpg"]
    send(desk, page, take_in="1", take=own, shown=own, **{f"title-{own}": "The Slipway"})
    work = next(each.record for each in desk.studio.all(type(desk.work(desk.ferry))) if each.record.title() == "The Slipway")  # fmt: skip
    assert [each.file_name for each in work.photos] == ["a.jpg"]


def test_what_cannot_be_sorted_is_told_all_at_once_and_what_was_typed_stays(desk):
    shown, page = lay(desk, two_sittings())
    key = keys(shown)
    first = key["IMG_1.JPG"]
    seq = desk.studio.ledger.last()
    answer = send(
        desk, page, take_in="1", take=list(key.values()), shown=list(key.values()),
        **{f"work-{first}": "1999-999", f"all-stage-{first}": "stage/during"},
    )  # fmt: skip
    assert answer.status_code == 422
    assert "no work has the number &#39;1999-999&#39;" in answer.text
    assert "nobody said of which work" in answer.text
    assert 'value="1999-999"' in answer.text
    assert '<option value="stage/during" selected' in answer.text
    assert desk.studio.ledger.last() == seq
    # and after the server was started anew it is all still there
    assert 'value="1999-999"' in desk.client.get(page).text
    nothing = send(desk, page, take_in="1", shown=list(key.values()))
    assert "no photograph is ticked" in nothing.text
    both = {f"work-{first}": "1", f"title-{first}": "x"}
    assert "or of a new work" in send(desk, page, take_in="1", take=first, **both).text


def test_sittings_are_parted_and_joined_by_hand_and_unticked_ones_stay(desk):
    shown, page = lay(desk, two_sittings())
    key = keys(shown)
    all_of_them = {"take": list(key.values()), "shown": list(key.values())}
    send(desk, page, cut=key["IMG_2 back.JPG"], **all_of_them)
    assert desk.client.get(page).text.count('class="slip sitting"') == 3
    send(desk, page, join=key["IMG_2 back.JPG"], **all_of_them)
    send(desk, page, join=key["IMG_3.JPG"], **all_of_them)
    assert desk.client.get(page).text.count('class="slip sitting"') == 1
    work = {f"work-{key['IMG_1.JPG']}": desk.work(desk.ferry).number}
    send(desk, page, take_in="1", take=key["IMG_3.JPG"], shown=list(key.values()), **work)
    assert [each.file_name for each in desk.work(desk.ferry).photos] == ["IMG_3.JPG"]
    left = desk.client.get(page).text
    assert "IMG_1.JPG" in left
    assert "IMG_3.JPG" not in left


def test_many_photographs_lie_on_sheets_and_what_is_typed_on_one_stays_on_the_others(
    desk, monkeypatch
):
    monkeypatch.setattr(sorting, "A_SHEET", 2)
    shown, page = lay(desk, two_sittings())
    assert list(keys(shown)) == ["IMG_1.JPG", "IMG_2 back.JPG"]
    first = keys(shown)
    second = keys(desk.client.get(f"{page}?sheet=2"))
    assert list(second) == ["IMG_3.JPG"]
    low, ferry = desk.work(desk.low_water), desk.work(desk.ferry)
    send(
        desk, page, sheet="1", again="1", take=first["IMG_1.JPG"], shown=list(first.values()),
        **{f"work-{first['IMG_1.JPG']}": low.number},
    )  # fmt: skip
    send(
        desk, page, sheet="2", take_in="1", take=second["IMG_3.JPG"], shown=second["IMG_3.JPG"],
        **{f"work-{second['IMG_3.JPG']}": ferry.number},
    )  # fmt: skip
    assert len(desk.work(desk.ferry).photos) == 1
    assert len(desk.work(desk.low_water).photos) == len(low.photos)
    left = desk.client.get(f"{page}?sheet=7").text
    assert f'value="{low.number}"' in left
    assert left.count(" checked>") == 1


def test_a_wrong_clock_is_put_right_for_all_of_them(desk):
    shown, page = lay(desk, two_sittings())
    answer = send(desk, page, ahead="90", take=list(keys(shown).values()))
    assert answer.status_code == 303
    desk.client.get(page)
    settled(desk)
    assert "07:30" in desk.client.get(page).text
    for wrong in ("soon", "nan", "1e300", "-1e300"):
        assert send(desk, page, ahead=wrong).status_code == 422


def test_the_same_photograph_twice_and_one_on_file_are_told_and_left_out(desk):
    known = desk.studio.ledger.read_file(desk.work(desk.low_water).photos[0].sha256)
    shown, _ = lay(
        desk, [*two_sittings(), ("copy.jpg", two_sittings()[0][1]), ("x.jpg", known)]
    )
    assert len(keys(shown)) == 3
    assert "the same photograph as IMG_1.JPG" in shown.text
    assert f"already on {desk.work(desk.low_water).number} as P" in shown.text


def test_a_crash_between_saving_and_clearing_takes_nothing_twice(desk, monkeypatch):
    shown, page = lay(desk, two_sittings())
    key = keys(shown)
    fields = {
        "take_in": "1", "take": list(key.values()), "shown": list(key.values()),
        f"work-{key['IMG_1.JPG']}": desk.work(desk.ferry).number,
        f"title-{key['IMG_3.JPG']}": "The Slipway",
    }  # fmt: skip
    with monkeypatch.context() as broken:
        broken.setattr(card_tray.Card, "drop", lambda self, keys: 1 / 0)
        send(desk, page, **fields)
    assert len(desk.work(desk.ferry).photos) == 2
    assert len(keys(desk.client.get(page))) == 3  # all still on the tray
    seq = desk.studio.ledger.last()[0]
    send(desk, page, **fields)
    assert len(desk.work(desk.ferry).photos) == 2
    assert desk.studio.ledger.last()[0] == seq + 1  # the new work, which had not been saved
    assert card_tray.waiting(desk.studio.folder) == []


def test_one_work_that_cannot_be_saved_leaves_the_others_whole(desk, monkeypatch):
    shown, page = lay(desk, two_sittings())
    key = keys(shown)
    own = card_tray.lying(desk.studio.folder, page.rpartition("/")[2])
    own.path(key["IMG_2 back.JPG"]).write_bytes(shot(f"{DAY} 09:01:00", "#ffffff"))
    fields = {
        f"work-{key['IMG_1.JPG']}": desk.work(desk.ferry).number,
        f"work-{key['IMG_3.JPG']}": desk.work(desk.low_water).number,
    }
    before = len(desk.work(desk.low_water).photos)
    send(desk, page, take_in="1", take=list(key.values()), shown=list(key.values()), **fields)
    assert desk.work(desk.ferry).photos == ()
    assert len(desk.work(desk.low_water).photos) == before + 1
    assert "changed since it was looked at" in desk.client.get(f"{page}/told").text
    assert len(own.keys()) == 2


# --- abuse ------------------------------------------------------------------------------------------


def outside_the_tray(desk):
    """Every file of the studio but those on the tray and those that can be made anew."""
    own = ("cards", "derived", "under-way", "indexes")
    found = (each.relative_to(desk.studio.folder) for each in desk.studio.folder.rglob("*"))
    return {each for each in found if each.parts[0] not in own}


def polyglot() -> bytes:
    """A JPEG that is a page too, for whoever guesses a file's kind by looking for tags."""
    return picture()[:-2] + b"<html><script>alert(1)</script></html>" + b"\xff\xd9"


BAD = {
    "page.jpg": (b"<html><script>alert(1)</script></html>", "not a picture"),
    "drawn.jpg": (
        b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>",
        "SVG drawing",
    ),
    "bomb.png": (png_bomb(), "too large"),
    "empty.jpg": (b"", "is empty"),
    "cut.jpg": (picture()[:5000], "cut off"),
    "gif.jpg": (b"GIF89a/*" + zlib.compress(b"x") + b"*/=1", "a GIF"),
    "zip.jpg": (b"PK\x03\x04" + picture(), "an archive"),
    "../../desk.key": (picture("#010101"), "carries a path"),
    "/etc/passwd.jpg": (picture("#020202"), "carries a path"),
    "DCIM/../../x.jpg": (picture("#030303"), "carries a path"),
    "a\u202egpj.exe": (picture("#050505"), "turns the reading direction"),
    "x" * 300 + ".jpg": (picture("#060606"), "longer than 255 bytes"),
    "CON.jpg": (picture("#070707"), "reserved for a device"),
    "<script>.jpg": (picture("#080808"), "some machines cannot store"),
}


def test_every_bad_file_is_named_with_why_and_the_good_one_stays(desk):
    before = outside_the_tray(desk)
    bad = [(name, content) for name, (content, _) in BAD.items()]
    shown, page = lay(desk, [("good.jpg", shot(f"{DAY} 09:00:00")), *bad])
    assert list(keys(shown)) == ["good.jpg"]
    assert f"Not taken in: {len(BAD)} files" in shown.text
    told = re.findall(r"<li>(.*?)</li>", shown.text.partition('id="left"')[2], re.DOTALL)
    for name, (_, why) in BAD.items():
        assert any(why in each for each in told), name
    assert sum("carries a path" in each for each in told) == 3
    assert "<script>." not in shown.text
    assert "\u202e" not in shown.text
    assert outside_the_tray(desk) == before
    own = card_tray.lying(desk.studio.folder, page.rpartition("/")[2])
    assert all(
        re.fullmatch(r"[0-9a-f]{16}(\.json)?", each.name) for each in own.files.iterdir()
    )


def test_a_photograph_that_is_a_page_too_goes_out_as_a_picture_and_nothing_else(desk):
    shown, page = lay(desk, [("both.jpg", polyglot())])
    key = next(iter(keys(shown).values()))
    with desk.client.get(f"{page}/{key}.jpg") as answer:
        assert answer.headers["Content-Type"] == "image/jpeg"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert b"<script>" not in answer.data


def test_made_up_keys_and_cards_are_not_on_file(desk):
    _, page = lay(desk, [("a.jpg", shot())])
    for path in ("0" * 16, "..", "../card", "x", "0" * 32):
        assert desk.client.get(f"{page}/{path}.jpg").status_code == 404
        assert desk.client.get(f"/card/{path}").status_code in (302, 308, 404)
    for path in ("/more", ""):
        assert desk.post(f"/card/{'0' * 32}{path}").status_code == 404


def test_too_many_files_are_refused_and_those_on_the_tray_stay(desk, monkeypatch):
    monkeypatch.setitem(table("sittings.toml"), "most_files", 2)
    desk.begin()
    own = card_tray.lay_down(desk.studio.folder, "Nell Quince")
    where = f"/card/{own.token}/more"
    answers = [
        desk.client.post(
            where,
            data={
                "csrf_token": desk.token("/who"),
                "files": (io.BytesIO(shot(colour=c)), "a.jpg"),
            },
        )
        for c in ("#111111", "#222222", "#333333")
    ]
    assert [each.status_code for each in answers] == [200, 200, 422]
    assert "2 photographs lie on this tray already" in answers[2].json["refused"]
    assert len(own.keys()) == 2


def test_a_script_hands_over_file_by_file_with_the_time_of_each(desk):
    desk.begin()
    begun = desk.post("/card", empty="1")
    assert begun.status_code == 201
    written = time.mktime((2026, 3, 2, 12, 0, 0, 0, 0, -1))
    for name, said in (("DCIM/a.jpg", str(written)), ("b.jpg", "never"), ("c.jpg", "9e99")):
        told = desk.client.post(
            begun.json["more"],
            data={"csrf_token": desk.token("/who"), "written": said, "files": (io.BytesIO(shot(colour=name[-5] * 3)), name)},
        )  # fmt: skip
        assert told.json["told"] == [{"name": name.rpartition("/")[2], "refused": ""}]
    desk.client.get(begun.json["onward"])
    settled(desk)
    shown = desk.client.get(begun.json["onward"]).text
    assert "the file’s time" in shown
    assert shown.count("no time") >= 2


def test_no_file_chosen_is_said_and_a_card_can_be_thrown_away(desk):
    answer, _ = lay(desk, [])
    assert answer.status_code == 422
    assert "no file was chosen" in answer.text
    _, page = lay(desk, two_sittings())
    assert "3 files" in desk.client.get("/card").text
    assert send(desk, page, throw_away="1").status_code == 303
    assert desk.client.get(page).status_code == 404
    assert files_kept(desk)


def test_one_photograph_is_thrown_away_and_its_sitting_keeps_what_was_said_of_it(desk):
    files = [(shot(f"{DAY} 09:0{at}:00", f"#33445{at}"), f"IMG_{at}.jpg") for at in range(4)]
    shown, page = lay(desk, [(name, content) for content, name in files])
    named = keys(shown)
    first, second, third = (named[f"IMG_{at}.jpg"] for at in range(3))
    desk.client.post(page, data={"csrf_token": desk.token(page), "cut": second})
    typed = {
        f"work-{second}": "2026-077",
        "take": [*named.values()],
        "shown": [*named.values()],
    }
    gone = desk.client.post(
        page, data={"csrf_token": desk.token(page), "throw": second, **typed}
    )
    assert gone.status_code == 303
    again = desk.client.get(page)
    assert keys(again) == {name: key for name, key in named.items() if key != second}
    # it began a work: the next one of that sitting begins it now, under the number that was typed
    assert again.text.count('class="slip sitting"') == 2
    assert f'name="work-{third}" list="numbers" value="2026-077"' in again.text
    assert "Throw IMG_0.jpg off the tray" in again.text
    lies = card_tray.lying(desk.studio.folder, page.rpartition("/")[2])
    assert not (lies.files / second).exists()
    # what is not on this tray is thrown nowhere
    desk.client.post(page, data={"csrf_token": desk.token(page), "throw": "../../desk.key"})
    assert sorted(lies.keys()) == sorted(key for key in named.values() if key != second)
    assert "3</span> files on the tray" in desk.client.get("/").text
    for key in (first, third, named["IMG_3.jpg"]):
        desk.client.post(page, data={"csrf_token": desk.token(page), "throw": key})
    assert "Nothing lies on the tray" in desk.client.get(page).text
    assert 'href="/card">A card of photographs</a>' in desk.client.get("/").text


def test_photographs_are_never_swept_off_the_tray_unsorted(desk):
    _, page = lay(desk, two_sittings())
    own = card_tray.lying(desk.studio.folder, page.rpartition("/")[2])
    empty = card_tray.lay_down(desk.studio.folder, "Nell Quince")
    for each in (own, empty):
        os.utime(each.folder, (0, 0))
    card_tray.lay_down(desk.studio.folder, "Nell Quince")
    assert len(own.keys()) == 3
    assert not empty.folder.exists()


def test_fifty_megapixels_are_taken_like_any_other(desk):
    large = io.BytesIO()
    Image.new("L", (8700, 5800), 120).save(large, "JPEG", optimize=True)
    shown, _ = lay(desk, [("large.jpg", large.getvalue())])
    assert list(keys(shown)) == ["large.jpg"]


def test_nobody_hands_over_without_a_name(desk):
    assert desk.client.get("/card").headers["Location"].startswith("/who")
    assert desk.post("/card").headers["Location"].startswith("/who")
