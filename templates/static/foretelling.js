// What a reading would bring, told while one types: a second, slower question that never keeps the first waiting.

import { onlyTheLatest } from "./latest.js";

const PAUSE = 400; // milliseconds without a key
const AGAIN = 2500; // and so long until labels that are still being laid out are asked for again

// What is asked about: the text, and what of the slip says which label it is. Never the draft, never the token.
const ASKED = [
  "inscription", "markup", "kind", "face", "techniques", "looks", "shape", "edge", "paper", "adhesive",
  "complete_percent", "colours", "x_mm", "y_mm", "width_mm", "height_mm", "orientation",
];

export function foretelling(form) {
  const place = document.getElementById("foretold");
  const asking = onlyTheLatest();
  let soon = 0;
  let last = "";

  function asked() {
    const typed = new FormData(form);
    const body = new URLSearchParams();
    for (const name of ASKED) for (const value of typed.getAll(name)) body.append(name, value);
    return body;
  }

  async function ask(once_more) {
    const body = asked();
    if (!once_more && String(body) === last) return;
    last = String(body);
    try {
      const answer = await asking.ask(place.dataset.foretell, body);
      if (!answer.ok) throw new Error("not told");
      show(await answer.text());
      if (place.querySelector("[data-again]")) later(AGAIN, true);
    } catch (fault) {
      if (fault.name !== "AbortError") place.classList.add("behind");
    }
  }

  // What somebody opened stays open as long as it is still told. The desk's own piece: what was typed is escaped.
  function show(piece) {
    const open = new Set([...place.querySelectorAll("details[open] > summary")].map((each) => each.textContent));
    place.innerHTML = piece;
    for (const each of place.querySelectorAll("summary")) each.parentElement.open = open.has(each.textContent);
    place.classList.remove("behind");
  }

  function later(pause, once_more = false) {
    clearTimeout(soon);
    soon = setTimeout(() => ask(once_more), pause);
  }

  form.addEventListener("input", () => later(PAUSE));
  form.addEventListener("change", () => later(PAUSE));
  form.addEventListener("submit", () => { clearTimeout(soon); asking.drop(); });
  addEventListener("pagehide", () => asking.drop());
  later(PAUSE);
}
