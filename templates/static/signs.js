// Signs at the keyboard: snippets around what is selected, habits put right, faults found again.

const KEPT = "dorse: all signs are shown";
const MAC = /Mac|iPhone|iPad/.test(navigator.platform);

export function signs(form) {
  const markup = form.elements.markup;
  const rendered = document.getElementById("rendered");
  const bar = document.getElementById("snippets");
  const buttons = [...bar.querySelectorAll("button")];
  const byLetter = new Map(buttons.map((each) => [each.dataset.letter, each]));
  let waiting = false; // Ctrl and full stop were pressed: the next letter is a snippet

  document.documentElement.classList.add("scripted");

  // --- typing --------------------------------------------------------------------------------

  // As if it had been typed, so that Ctrl+Z takes it back.
  function type(text, from, to) {
    markup.focus();
    markup.setSelectionRange(from, to);
    const done = text ? document.execCommand("insertText", false, text) : document.execCommand("delete");
    if (done) return;
    markup.setRangeText(text, from, to, "end");
    markup.dispatchEvent(new Event("input", { bubbles: true }));
  }

  function put(button) {
    const { before, after, each, caret } = button.dataset;
    const { selectionStart: from, selectionEnd: to } = markup;
    const selected = markup.value.slice(from, to);
    const inside = each && selected ? letters(selected).map((one) => one + after).join("") : selected + after;
    type(before + inside, from, to);
    const end = from + before.length + inside.length;
    const at = caret !== "" ? from + Number(caret) : selected ? end : from + before.length + (before ? 0 : after.length);
    markup.setSelectionRange(at, at);
  }

  // A letter with its accents is one.
  function letters(text) {
    return text.match(/\P{M}\p{M}*|\p{M}+/gsu) ?? [];
  }

  // --- the list of snippets: one stop of the Tab key, arrows within --------------------------

  function reach(button) {
    for (const each of buttons) each.tabIndex = each === button ? 0 : -1;
  }

  reach(buttons[0]);
  bar.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button) { reach(button); put(button); }
  });
  bar.addEventListener("keydown", (event) => {
    const here = buttons.indexOf(document.activeElement);
    const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    const next = event.key === "Home" ? 0 : event.key === "End" ? buttons.length - 1 : step && here + step;
    if (here < 0 || next === undefined) return;
    event.preventDefault();
    const button = buttons[(next + buttons.length) % buttons.length];
    reach(button);
    button.focus();
  });

  markup.addEventListener("keydown", (event) => {
    if (["Control", "Shift", "Alt", "Meta"].includes(event.key)) return;
    const command = event.ctrlKey || event.metaKey;
    if (command && !event.altKey && event.key === ".") {
      event.preventDefault();
      listen(true);
      return;
    }
    // On other keyboards than a Mac's, where Alt types letters with accents.
    const alt = event.altKey && !command && !MAC && !event.getModifierState("AltGraph");
    const button = (waiting || alt) && !command && byLetter.get(event.key.toLowerCase());
    listen(false);
    if (!button) return;
    event.preventDefault();
    put(button);
  });
  markup.addEventListener("blur", () => listen(false));

  function listen(now) {
    waiting = now;
    bar.classList.toggle("waiting", now);
  }

  // --- one row of them, or all: as it was left the last time ---------------------------------

  const all = document.getElementById("all-signs");

  function show(every) {
    bar.classList.toggle("all", every);
    all.setAttribute("aria-expanded", String(every));
  }

  try { show(localStorage.getItem(KEPT) === "yes"); } catch { /* a browser that keeps nothing: one row */ }
  all.addEventListener("click", () => {
    const every = !bar.classList.contains("all");
    show(every);
    try { localStorage.setItem(KEPT, every ? "yes" : "no"); } catch { /* it holds for this page */ }
  });

  // --- what stands under the rendering: faults and habits ------------------------------------

  // The server counts letters (code points), the text area counts in halves of some of them.
  function place(text, at) {
    return [...text].slice(0, at).join("").length;
  }

  rendered.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    const { at, length, written, instead, from, typed } = button.dataset;
    // What is shown may lag behind what is typed: only the very text that it speaks of is changed.
    if (typed !== undefined) {
      event.preventDefault();
      if (from === markup.value) type(typed, 0, markup.value.length);
      return;
    }
    if (at === undefined) return;
    event.preventDefault();
    const start = place(markup.value, Number(at));
    const end = place(markup.value, Number(at) + Number(length));
    markup.focus();
    markup.setSelectionRange(start, end);
    if (instead !== undefined && written === markup.value.slice(start, end)) type(instead, start, end);
  });
}
