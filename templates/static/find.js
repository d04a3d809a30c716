// The search while one types, and its keys. Without it the page does the same with its button and links.

const field = document.getElementById("q");
const form = document.getElementById("ask");
const results = document.getElementById("results");
const counted = document.getElementById("counted");
const PAUSE = 180;
const BURST = 2000;
let timer, asking, settled;

const addressOf = (text) => form.action.split("?")[0] + (text ? `?q=${encodeURIComponent(text)}` : "");

async function show(address, keep) {
  asking?.abort();
  const mine = (asking = new AbortController());
  const part = form.dataset.part + new URL(address, location).search;
  results.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(part, { signal: mine.signal });
    if (!answer.ok && answer.status !== 422) return location.assign(address);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (mine !== asking) return;
    const key = document.activeElement?.dataset?.key;
    const inside = results.contains(document.activeElement);
    results.replaceChildren(...page.body.childNodes);
    if (inside) (key && results.querySelector(`[data-key="${CSS.escape(key)}"]`) || results).focus();
    counted.textContent = results.querySelector("[data-count]")?.textContent ?? results.querySelector("[role=alert]")?.textContent ?? "";
    if (keep && address !== location.href) history[keep](null, "", address);
  } catch (fault) {
    if (fault.name !== "AbortError") location.assign(address);
  } finally {
    if (mine === asking) results.removeAttribute("aria-busy");
  }
}

// One entry of the browser's history for what is typed in one go: back leads to the question before.
function typed() {
  const address = addressOf(field.value.trim());
  const keep = settled === undefined ? "pushState" : "replaceState";
  clearTimeout(settled);
  settled = setTimeout(() => (settled = undefined), BURST);
  show(new URL(address, location).href, keep);
}

field.addEventListener("input", () => {
  clearTimeout(timer);
  timer = setTimeout(typed, PAUSE);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(timer);
  typed();
});
results.addEventListener("click", (event) => {
  const link = event.target.closest("a");
  if (!link || link.origin !== location.origin || link.pathname !== new URL(form.action).pathname || link.hash) return;
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
  event.preventDefault();
  field.value = new URL(link.href).searchParams.get("q") ?? "";
  show(link.href, "pushState");
});
addEventListener("popstate", () => {
  clearTimeout(timer);
  field.value = new URL(location).searchParams.get("q") ?? "";
  show(location.href, null);
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
