"""US-19, before and after: a pair in the same light, said where it is not, and the change in figures.

The story and its acceptance facts are those of the trade sheet, section 1.5.
"""

from __future__ import annotations

import io

import pytest
from painting_0_1 import WHO, check, page, painting, photo, seen, tear
from PIL import Image

from catalogue.argument.photo_pairs import before_and_after
from catalogue.measure import Day


def taken(number, stage, light="normal", **more):
    return photo(number, "back", stage, light=f"light/{light}", width=600, height=450, **more)


def pairs(*photos):
    return before_and_after(painting(photos=photos))


def test_a_pair_is_of_one_side_before_and_after_and_shows_the_whole():
    before, after = taken(1, "before"), taken(2, "after")
    (pair,) = pairs(before, after, taken(3, "during"))
    assert (pair.before, pair.after) == (before, after)
    assert pair.doubts == ()
    assert pairs(before, taken(2, "after", view="view/detail")) == ()
    assert pairs(before, taken(2, "after", mirrored=True)) == ()
    assert pairs(before) == ()


def test_the_pair_in_the_same_light_is_taken_where_there_is_one():
    (pair,) = pairs(
        taken(1, "before", "raking"), taken(2, "before"), taken(3, "after"),
        taken(4, "after", "ultraviolet"),
    )  # fmt: skip
    assert (pair.before.number, pair.after.number) == ("P2", "P3")


@pytest.mark.parametrize(
    ("after", "doubts"),
    [
        ({"light": "raking"}, ("light",)),
        ({"mm_per_pixel": 0.4}, ("scale",)),
        ({"mm_per_pixel": None}, ("scale",)),
        ({"height": 600}, ("crop",)),
    ],
)
def test_what_speaks_against_the_comparison_is_said(after, doubts):
    more = {
        "number": 2,
        "stage": "after",
        "light": "normal",
        "width": 600,
        "height": 450,
        **after,
    }
    light = more.pop("light")
    (pair,) = pairs(
        taken(1, "before"),
        photo(more.pop("number"), "back", more.pop("stage"), light=f"light/{light}", **more),
    )
    assert pair.doubts == doubts


def picture(shade):
    file = io.BytesIO()
    Image.new("RGB", (60, 45), shade).save(file, "JPEG")
    return file.getvalue()


def test_the_desk_shows_the_pair_with_its_warning_and_the_way_to_the_figures(empty_studio):
    pictures = [
        (empty_studio.taken_in(content, name=f"{stage}.jpg", face="face/back"), content)
        for stage, content in (("before", picture("#775533")), ("after", picture("#886644")))
    ]
    first, last = check(Day(2026, 2, 3)), check(Day(2026, 5, 3), "after-treatment", "K2")
    found = tear(
        seen(first, length_mm=62, change="change/new"),
        seen(last, length_mm=62, change="change/treated"),
    )
    kept = empty_studio.new_work(
        title="Sea Wall", artist="M. Harrowell", made="1931", who=WHO, photos=pictures
    )
    staged = [
        photo(
            number, "back", stage, file_name=each.file_name, sha256=each.sha256,
            light=f"light/{light}",
        )
        for number, (each, stage, light) in enumerate(
            zip(kept.record.photos, ("before", "after"), ("normal", "raking"), strict=True), 1
        )
    ]  # fmt: skip
    work = painting(
        id=kept.record.id, number=kept.record.number, checks=(first, last), findings=(found,),
        photos=tuple(staged),
    )  # fmt: skip
    saved = empty_studio.save(work, who=WHO, read=kept).record
    told = page(empty_studio, saved, "before-and-after")
    assert told.count("<figure>") == 2
    assert "They were not taken in the same light: do not compare their colours." in told
    assert f'href="/work/{saved.id}/compare?first=K1&amp;second=K2"' in told
    assert "F1 tear: treated; length 0 mm" in page(
        empty_studio, saved, "compare", first="K1", second="K2"
    )
