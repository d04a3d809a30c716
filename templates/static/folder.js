// Both sides and their list in step: what is pointed at in one lights up in the other; layers switch at once.

document.documentElement.classList.add("scripted");
const table = document.getElementById("picture");

// --- lit up together -----------------------------------------------------------------------------

function light(mark, on) {
  for (const each of document.querySelectorAll(`[data-mark="${CSS.escape(mark)}"]`)) each.classList.toggle("is-lit", on);
}

const marked = (event) => event.target.closest?.("[data-mark]");

for (const [begins, ends] of [["pointerover", "pointerout"], ["focusin", "focusout"]]) {
  document.addEventListener(begins, (event) => {
    const at = marked(event);
    if (at) light(at.dataset.mark, true);
  });
  document.addEventListener(ends, (event) => {
    const at = marked(event);
    if (at && !at.contains(event.relatedTarget)) light(at.dataset.mark, false);
  });
}

// A mark on the photo scrolls its line of the list into sight, so that both are seen at once.
table?.querySelector(".lit-pair").addEventListener("pointerover", (event) => {
  const at = marked(event);
  const list = table.querySelector(".numbers");
  const line = at && list?.querySelector(`[data-mark="${CSS.escape(at.dataset.mark)}"]`);
  if (!line) return;
  const [one, all] = [line.getBoundingClientRect(), list.getBoundingClientRect()];
  if (one.top < all.top) list.scrollTop -= all.top - one.top;
  else if (one.bottom > all.bottom) list.scrollTop += one.bottom - all.bottom;
});

// --- layers --------------------------------------------------------------------------------------

const layers = table?.querySelector(".layers");
layers?.addEventListener("change", () => {
  for (const box of layers.querySelectorAll("[name=show]")) {
    table.toggleAttribute(`data-without-${box.value}`, !box.checked);
  }
  // The address keeps what is shown: it can be left and come back to, and sent to the other desk.
  const asked = new URLSearchParams(new FormData(layers));
  history.replaceState(history.state, "", `?${asked}${location.hash}`);
});

// --- led to a fact that is not there yet: its field opens, so that it can be typed at once -----------

function openWhatIsMissing() {
  const fact = document.getElementById(location.hash.slice(1));
  if (!fact || !fact.classList.contains("fact") || fact.querySelector("summary:not(.add)")) return;
  const form = fact.querySelector("details:has(> summary.add)");
  if (!form) return;
  form.open = true;
  form.querySelector("input:not([type=hidden])")?.focus({ preventScroll: true });
}
for (const when of ["load", "hashchange"]) addEventListener(when, openWhatIsMissing);

// --- where one is in the folder ------------------------------------------------------------------

const ways = new Map(
  [...document.querySelectorAll(".contents a")].map((way) => [document.getElementById(way.hash.slice(1)), way]),
);
const seen = new Set();
const watch = new IntersectionObserver((entries) => {
  for (const each of entries) seen[each.isIntersecting ? "add" : "delete"](each.target);
  const first = [...ways.keys()].find((each) => seen.has(each));
  for (const [section, way] of ways) {
    if (section === first) way.setAttribute("aria-current", "true");
    else way.removeAttribute("aria-current");
  }
}, { rootMargin: "-10% 0% -60% 0%" });
for (const section of ways.keys()) if (section) watch.observe(section);
