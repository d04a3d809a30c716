"""The search page in a real browser: answers while one types, its keys, back and forth, and no script at all."""

from __future__ import annotations

import re
from urllib.parse import parse_qs, urlsplit

import pytest
from test_desk_browser import browser, choose_who, house, room  # noqa: F401

pytestmark = pytest.mark.browser


def asked(page) -> str:
    """The question in the address of the page."""
    return parse_qs(urlsplit(page.url).query).get("q", [""])[0]


def answered(page, text: str) -> None:
    """The address is that of the question, and the script waits for no answer."""
    page.wait_for_function(
        "text => (new URL(location).searchParams.get('q') ?? '') === text", arg=text
    )
    page.wait_for_function("() => !document.querySelector('#results[aria-busy]')")


def holds(page, text: str) -> None:
    """The field and the address say this question, and the answer is that of it."""
    page.wait_for_function("text => document.getElementById('q').value === text", arg=text)
    answered(page, text)


def works(page) -> list[str]:
    return page.locator(".hit h2 .object").all_inner_texts()


def type_in(page, text: str) -> None:
    """Type a question and wait until its answer stands there."""
    page.locator("#q").fill(text)
    answered(page, text)


def test_the_answer_stands_there_while_one_types_and_keys_walk_it(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go("/find")
    assert page.evaluate("document.activeElement.id") == "q"
    page.keyboard.type("kind:work", delay=10)
    page.wait_for_function("() => document.querySelectorAll('.hit').length === 2")
    assert sorted(works(page)) == ["Low Water", "The Ferry at Dawn"]
    assert "2 found" in page.locator("#counted").inner_text()

    first, second = works(page)
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.innerText").endswith(first)
    page.keyboard.press("j")
    assert page.evaluate("document.activeElement.innerText").endswith(second)
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.innerText").endswith(second)
    page.keyboard.press("k")
    page.keyboard.press("ArrowUp")
    assert page.evaluate("document.activeElement.id") == "q"

    page.keyboard.press("ArrowDown")
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "q"
    assert page.locator("#q").input_value() == "kind:work"
    page.keyboard.press("Escape")
    holds(page, "")
    page.wait_for_function("() => document.querySelectorAll('.hit').length === 0")

    # a slash that is typed stays a letter of the question
    page.keyboard.type("ferry near/5 dawn")
    holds(page, "ferry near/5 dawn")
    page.wait_for_function("() => document.querySelectorAll('.hit').length === 1")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(rf"/work/{room.ids['ferry']}"))
    page.go_back()
    holds(page, "ferry near/5 dawn")


def test_back_after_narrowing_leads_to_the_question_before_and_forward_again(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go("/find")
    type_in(page, "hollis")
    page.locator("#narrow a[data-key='face=face/back']").click()
    # the address changes at the click: whoever goes back before the answer is there loses nothing
    assert asked(page) == "hollis face:back"
    holds(page, "hollis face:back")
    page.go_back()
    holds(page, "hollis")
    assert works(page) == ["Low Water"]
    page.go_forward()
    holds(page, "hollis face:back")
    page.locator("#narrow a[data-key='face=face/back']").click()
    holds(page, "hollis")


def test_back_before_the_answer_is_there_keeps_the_question(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go("/find")
    type_in(page, "hollis")
    page.locator("#narrow a[data-key='face=face/back']").wait_for()
    page.evaluate(
        "() => { document.querySelector(\"#narrow a[data-key='face=face/back']\").click(); history.back(); }"
    )
    page.wait_for_timeout(600)
    holds(page, "hollis")


def test_what_is_typed_in_one_go_is_one_step_back(room):  # noqa: F811
    page = room.page
    choose_who(room)
    room.go("/find")
    for text in ("hol", "holl", "hollis"):
        type_in(page, text)
    page.keyboard.press("Enter")
    for text in ("f", "fer", "ferry"):
        type_in(page, text)
    page.go_back()
    holds(page, "hollis")
    page.go_forward()
    holds(page, "ferry")


def test_without_a_script_the_button_and_the_links_do_the_same(room):  # noqa: F811
    context = room.page.context.browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{room.base}/find?q=hol")
    assert not page.locator(".keys").is_visible()
    page.locator("#q").fill("hollis")
    page.get_by_role("button", name="Find", exact=True).click()
    page.wait_for_url(re.compile(r"q=hollis$"))
    assert works(page) == ["Low Water"]
    page.locator("#narrow a[data-key='face=face/back']").click()
    page.wait_for_url(re.compile(r"q=hollis.face"))
    assert page.locator("#q").input_value() == "hollis face:back"
    page.go_back()
    page.wait_for_url(re.compile(r"q=hollis$"))
    assert page.locator("#q").input_value() == "hollis"
    context.close()
