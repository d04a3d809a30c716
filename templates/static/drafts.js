// Forms that are kept as one types: sent after a pause and on leaving, filled again from a draft, held back while the desk is silent.
import { whileItAnswers } from "./answering.js";
import { token } from "./latest.js";

const PAUSE = 1200; // milliseconds without a key before a form is kept
const AGAIN = 4000; // and before it is tried again when the desk was silent
const PATIENCE = 8000; // how long an answer is waited for

const forms = [...document.querySelectorAll("form[data-draft]")].filter((each) => each.elements.draft_place);

/** What a form says, without its files: those are chosen again. */
function written(form) {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (typeof value === "string") fields.append(name, value);
  return fields;
}

function post(form) {
  return fetch(form.dataset.draft, {
    method: "POST",
    headers: { "X-CSRFToken": token, Accept: "application/json" },
    body: written(form),
    redirect: "error",
    signal: AbortSignal.timeout(PATIENCE),
  });
}

/** Keep one form as it is typed in. */
function follow(form) {
  const said = form.querySelector(".draft-said");
  let soon = 0;
  let keeping = false; // one at a time: an older text never arrives after a newer one
  let more = false;
  let sending = false;
  let typed = 0; // how often something was typed, and how much of it is kept
  let sofar = 0;
  let failed = false;

  function say(words) { if (said && said.textContent !== words) said.textContent = words; }

  async function keep() {
    if (sending) return;
    if (keeping) { more = true; return; }
    keeping = true;
    more = false;
    const wait = await kept().finally(() => { keeping = false; });
    if (sending) return;
    clearTimeout(soon);
    if (more || wait) soon = setTimeout(keep, more ? 0 : wait);
  }

  /** Keep it once; after how long to try again, 0 for never. */
  async function kept() {
    const now = typed;
    let answer;
    try {
      answer = await post(form);
    } catch {
      if (!sending) say(said?.dataset.failed);
      failed = true;
      return AGAIN;
    }
    const told = await answer.json().catch(() => ({}));
    if (sending) return 0;
    if (answer.status === 409 && told.again) {
      form.elements.draft.value = told.again; // this one was saved from another window
      return 1;
    }
    if (answer.ok && told.id) form.elements.draft.value = told.id;
    failed = !answer.ok;
    if (answer.ok) sofar = now;
    say(answer.ok ? said?.dataset.kept : told.message || said?.dataset.failed);
    return answer.status >= 500 ? AGAIN : 0;
  }

  function changed() {
    typed += 1;
    say("");
    clearTimeout(soon);
    soon = setTimeout(keep, PAUSE);
  }
  form.addEventListener("input", changed);
  form.addEventListener("changed", changed);

  whileItAnswers(form, {
    sent() { sending = true; clearTimeout(soon); },
    silent() {
      say(said?.dataset.silent);
      failed = true;
      typed += 1;
      clearTimeout(soon);
      soon = setTimeout(keep, AGAIN);
    },
  });

  if (form.dataset.typed) changed(); // shown again with what was typed

  addEventListener("pageshow", (event) => { if (event.persisted) sending = false; });

  addEventListener("beforeunload", (event) => { if (typed > sofar && failed && !sending) event.preventDefault(); });

  // What was typed in the last second is kept as well when the page is left.
  addEventListener("pagehide", () => {
    if (typed > sofar && !sending) navigator.sendBeacon?.(form.dataset.draft, written(form));
  });
}

/** Put what a draft holds into the blanks of a form that stands there with other contents. */
async function fill(form, address) {
  const answer = await fetch(address, { headers: { Accept: "application/json" } });
  if (!answer.ok) return;
  const { fields } = await answer.json();
  for (const blank of form.elements) {
    if (!blank.name || blank.name.startsWith("draft") || blank.type === "file" || blank.name === "csrf_token") continue;
    const texts = fields[blank.name];
    if (blank.type === "checkbox" || blank.type === "radio") blank.checked = Boolean(texts?.includes(blank.value));
    else if (texts && blank.tagName === "SELECT" && blank.multiple) for (const each of blank.options) each.selected = texts.includes(each.value);
    else if (texts && blank.tagName !== "BUTTON") {
      const same = [...form.elements].filter((other) => other.name === blank.name);
      blank.value = texts[same.indexOf(blank)] ?? blank.value;
    }
  }
  for (let around = form; around; around = around.parentElement) if (around.tagName === "DETAILS") around.open = true;
  form.querySelector("textarea, input:not([type=hidden]), select")?.focus();
  form.dispatchEvent(new Event("filled"));
}

for (const form of forms) {
  follow(form);
  const address = form.querySelector("[data-fill]")?.dataset.fill;
  if (address) fill(form, address);
}
