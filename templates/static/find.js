// The search while one types, and its keys. Without it the page does the same with its button and links.

document.documentElement.classList.add("scripted");
const field = document.getElementById("q");
const form = document.getElementById("ask");
const results = document.getElementById("results");
const counted = document.getElementById("counted");
const PAUSE = 180;
const BURST = 2000;
let timer, asking, settling;
let shown = location.pathname + location.search;

const addressOf = (text) => form.action.split("?")[0] + (text ? `?q=${encodeURIComponent(text)}` : "");

async function show(address) {
  asking?.abort();
  const mine = (asking = new AbortController());
  const wanted = new URL(address, location);
  shown = wanted.pathname + wanted.search;
  results.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.dataset.part + wanted.search, { signal: mine.signal });
    if (!answer.ok && answer.status !== 422) return location.assign(address);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (mine !== asking) return;
    const key = document.activeElement?.dataset?.key;
    const inside = results.contains(document.activeElement);
    const open = new Set([...results.querySelectorAll("details[open][id]")].map((each) => each.id));
    results.replaceChildren(...page.body.childNodes);
    for (const each of results.querySelectorAll("details[id]")) each.open ||= open.has(each.id);
    if (inside) (key && results.querySelector(`[data-key="${CSS.escape(key)}"]`) || results).focus();
    counted.textContent = results.querySelector("[data-count]")?.textContent ?? results.querySelector("[role=alert]")?.textContent ?? "";
  } catch (fault) {
    if (fault.name !== "AbortError") location.assign(address);
  } finally {
    if (mine === asking) results.removeAttribute("aria-busy");
  }
}

// The address is that of the question from the moment it is asked, so that back never skips one.
function keep(address, anew) {
  if (address === location.href) return;
  history[anew ? "pushState" : "replaceState"](null, "", address);
}

// What is typed in one go is one entry of the browser's history: back leads to the question before.
function typed() {
  const address = new URL(addressOf(field.value.trim()), location).href;
  const before = new URL(location).searchParams.get("q");
  keep(address, before && settling === undefined);
  clearTimeout(settling);
  settling = setTimeout(settled, BURST);
  show(address);
}

function settled() {
  clearTimeout(settling);
  settling = undefined;
}

field.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(typed, PAUSE);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(timer);
  typed();
  settled();
});
results.addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link || link.origin !== location.origin || link.pathname !== new URL(form.action).pathname || link.hash) return;
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  event.preventDefault();
  clearTimeout(timer);
  settled();
  field.value = new URL(link.href).searchParams.get("q") ?? "";
  keep(link.href, true);
  show(link.href);
});
addEventListener("popstate", () => {
  clearTimeout(timer);
  settled();
  // a step within the page (to what narrows the answer) is no other question
  if (shown === location.pathname + location.search) return;
  field.value = new URL(location).searchParams.get("q") ?? "";
  show(location.href);
});

// --- keys -----------------------------------------------------------------------------------------

function clear() {
  field.focus();
  if (!field.value) return;
  field.value = "";
  clearTimeout(timer);
  typed();
}

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  const here = document.activeElement;
  const writing = here.matches("input, textarea, select");
  const cards = [...results.querySelectorAll(".hit h2 a")];
  const at = cards.findIndex((card) => card.closest(".hit").contains(here));
  const down = event.key === "ArrowDown" || (event.key === "j" && !writing);
  const up = event.key === "ArrowUp" || (event.key === "k" && !writing);
  if (event.key === "/" && !writing) field.select();
  else if (event.key === "Escape" && (here === field || !writing)) clear();
  else if (down && (here === field || at >= 0 || event.key === "j")) cards[Math.min(at + 1, cards.length - 1)]?.focus();
  else if (up && at >= 0) (cards[at - 1] ?? field).focus();
  else return;
  event.preventDefault();
});
