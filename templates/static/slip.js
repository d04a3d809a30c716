// The slip: rendered as one types, kept as a draft as one goes, saved from the keyboard while the desk answers.
import { whileItAnswers } from "./answering.js";
import { onlyTheLatest, token } from "./latest.js";

const PAUSE = 100; // milliseconds without a key before the markup is rendered
const DRAFT_PAUSE = 1200;
const AGAIN = 4000; // and before a draft is tried again when the desk was silent

export function slip(form) {
  const markup = form.elements.markup;
  const rendered = document.getElementById("rendered");
  const kept = document.getElementById("kept");
  const save = document.getElementById("save");
  const rendering = onlyTheLatest();
  let keeping = null;
  let renderSoon = 0;
  let draftSoon = 0;
  let saving = false;
  let touched = false;
  let failed = false; // what is typed last is not kept anywhere but on this page

  // --- rendering -----------------------------------------------------------------------------

  async function render() {
    try {
      const answer = await rendering.ask(form.dataset.render, new URLSearchParams({ markup: markup.value }));
      // The desk's own rendering, in which whatever was typed is escaped.
      if (answer.ok) rendered.innerHTML = await answer.text();
    } catch (fault) {
      if (fault.name !== "AbortError") rendered.classList.add("behind");
      return;
    }
    rendered.classList.remove("behind");
  }

  markup.addEventListener("input", () => {
    clearTimeout(renderSoon);
    renderSoon = setTimeout(render, PAUSE);
  });

  // --- drafts --------------------------------------------------------------------------------

  async function keep() {
    if (saving) return;
    keeping = new AbortController();
    try {
      const answer = await fetch(form.dataset.draft, {
        method: "POST",
        headers: { "X-CSRFToken": token, Accept: "application/json" },
        body: new URLSearchParams(new FormData(form)),
        redirect: "error",
        signal: keeping.signal,
      });
      failed = !answer.ok;
      if (answer.ok && !saving) kept.textContent = kept.dataset.said;
    } catch {
      if (saving) return;
      if (kept.textContent !== kept.dataset.silent) kept.textContent = kept.dataset.failed;
      failed = true;
      draftSoon = setTimeout(keep, AGAIN);
    }
  }

  function changed() {
    touched = true;
    kept.textContent = "";
    clearTimeout(draftSoon);
    draftSoon = setTimeout(keep, DRAFT_PAUSE);
  }
  form.addEventListener("input", changed);
  form.addEventListener("changed", changed);

  // --- saving --------------------------------------------------------------------------------

  whileItAnswers(form, {
    sent() {
      saving = true;
      keeping?.abort(); // else a draft on its way could arrive after the save that consumes it
      clearTimeout(draftSoon);
      clearTimeout(renderSoon);
    },
    silent() {
      kept.textContent = kept.dataset.silent;
      failed = touched = true;
      clearTimeout(draftSoon);
      draftSoon = setTimeout(keep, AGAIN);
    },
  });
  addEventListener("pageshow", (event) => { if (event.persisted) saving = false; });

  document.addEventListener("keydown", (event) => {
    const command = event.ctrlKey || event.metaKey;
    if (command && !event.altKey && (event.key === "Enter" || event.key.toLowerCase() === "s")) {
      event.preventDefault();
      if (!saving) form.requestSubmit(save);
    }
  });

  addEventListener("beforeunload", (event) => { if (touched && failed && !saving) event.preventDefault(); });

  // What was typed in the last second is kept as well when the page is left.
  addEventListener("pagehide", () => {
    if (!touched || saving) return;
    const body = new URLSearchParams(new FormData(form));
    navigator.sendBeacon?.(form.dataset.draft, body);
  });
}
