// The key ? alone opens help, outside of text; whoever speaks to the computer can switch that off.

const REMEMBERED = "dorse: ? opens the keys";
const HELP = document.querySelector("a[data-help]")?.href;
const tick = document.getElementById("question-mark");

function wanted() {
  try { return localStorage.getItem(REMEMBERED) !== "no"; } catch { return true; }
}

if (tick) {
  tick.checked = wanted();
  tick.addEventListener("change", () => {
    try { localStorage.setItem(REMEMBERED, tick.checked ? "yes" : "no"); } catch { /* it holds for this page */ }
  });
}

document.addEventListener("keydown", (event) => {
  // Pages with a list of keys of their own open that instead.
  const theirs = event.defaultPrevented || document.getElementById("keys");
  if (theirs || event.key !== "?" || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.target.closest("input, textarea, select, [contenteditable]") || !wanted()) return;
  event.preventDefault();
  location.assign(HELP);
});
