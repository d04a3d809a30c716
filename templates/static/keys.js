// Keys of the whole reading page: the list of keys, the next inscription and the one before.

const REMEMBERED = "dorse: ? opens the keys";

function types(target) {
  return target.closest("input, textarea, select, [contenteditable]") !== null;
}

function remembered() {
  try { return localStorage.getItem(REMEMBERED) !== "no"; } catch { return true; }
}

export function keys() {
  const list = document.getElementById("keys");
  const alone = document.getElementById("one-key");
  const links = [...document.querySelectorAll(".marks-bar a")];
  let from = null; // where one came from when the list was opened

  alone.checked = remembered();
  alone.addEventListener("change", () => {
    try { localStorage.setItem(REMEMBERED, alone.checked ? "yes" : "no"); } catch { /* it holds for this page */ }
  });

  function open(now) {
    if (now) from = document.activeElement;
    list.open = now;
    const there = now ? list.querySelector("summary") : from;
    there?.focus();
    if (now) list.scrollIntoView({ block: "nearest" });
  }

  document.addEventListener("keydown", (event) => {
    if (event.altKey && !event.ctrlKey && !event.metaKey && (event.key === "PageDown" || event.key === "PageUp")) {
      const here = links.findIndex((each) => each.hasAttribute("aria-current"));
      const next = links[here + (event.key === "PageDown" ? 1 : -1)];
      event.preventDefault();
      if (here >= 0 && next) next.click();
    } else if (event.key === "?" && !event.ctrlKey && !event.metaKey && alone.checked && !types(event.target)) {
      event.preventDefault();
      open(!list.open);
    } else if (event.key === "Escape" && list.open && list.contains(event.target)) {
      open(false);
    }
  });

  for (const link of document.querySelectorAll('a[href="#keys"]')) {
    link.addEventListener("click", (event) => { event.preventDefault(); open(true); });
  }
  // After a save the next thing is what the reading says: one key away, and one more to the first of it.
  const open_still = document.getElementById("open-still");
  open_still?.addEventListener("click", (event) => {
    const first = document.querySelector(".statement[tabindex]");
    if (!event.target.closest("a") || !first) return;
    event.preventDefault();
    first.focus();
    first.scrollIntoView({ block: "center" });
  });
  if (document.querySelector(".told") && document.activeElement === document.body) {
    open_still?.querySelector("a")?.focus({ preventScroll: true });
  }

  document.querySelector(".marks-bar [aria-current]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
}
