// How much of the window the photo takes: beside the slip, or all of it with the slip below.

const KEPT = "dorse-all-of-the-window";

export function roomFor(table) {
  const section = table.closest(".table");
  const page = section.closest(".beside");
  const button = document.getElementById("all-of-it");

  function show(all) {
    page.classList.toggle("all-of-the-window", all);
    button.setAttribute("aria-pressed", String(all));
    section.style.setProperty("--above", `${all ? 0 : Math.round(section.getBoundingClientRect().top + scrollY)}px`);
  }

  function change() {
    const all = !page.classList.contains("all-of-the-window");
    show(all);
    if (all) section.scrollIntoView({ block: "start" });
    else scrollTo(0, 0);
    try {
      sessionStorage.setItem(KEPT, all ? "yes" : "");
    } catch {
      // A browser that keeps nothing: the next page begins beside the slip.
    }
  }

  let kept = false;
  try {
    kept = sessionStorage.getItem(KEPT) === "yes";
  } catch {
    // The same.
  }
  show(kept);
  button.addEventListener("click", change);
  return { change };
}
