// What a reading says: its letters lit from the list, decisions by one key, without leaving the page.
import { saving } from "./together.js";

const DECISIONS = { a: "standing/accepted", r: "standing/rejected" };

export function statements(section) {
  if (!section) return;
  let deciding = false;

  const row = (target) => target.closest?.(".statement");
  const rows = () => [...section.querySelectorAll(".statement[tabindex]")];

  // --- the letters of the row under the pointer or the focus ----------------------------------

  function light(target) {
    const number = row(target)?.dataset.number;
    for (const mark of section.querySelectorAll("mark")) {
      mark.classList.toggle("lit", number !== undefined && mark.dataset.numbers.split(" ").includes(number));
    }
  }
  section.addEventListener("focusin", (event) => light(event.target));
  section.addEventListener("mouseover", (event) => light(event.target));
  section.addEventListener("mouseleave", () => light(document.activeElement));

  // --- keys: a, c, r decide, the arrows go from row to row ------------------------------------

  section.addEventListener("keydown", (event) => {
    const here = event.target;
    if (!here.matches(".statement") || event.ctrlKey || event.metaKey || event.altKey) return;
    const key = event.key.toLowerCase();
    const step = { arrowdown: 1, arrowup: -1 }[key];
    if (DECISIONS[key]) {
      here.querySelector(`button[value="${DECISIONS[key]}"]`).click();
    } else if (key === "c") {
      here.querySelector("details").open = true;
      here.querySelector("[name=value]").select();
    } else if (step) {
      const all = rows();
      all[all.indexOf(here) + step]?.focus();
    } else return;
    event.preventDefault();
  });

  section.addEventListener("keydown", (event) => {
    const open = event.key === "Escape" && event.target.closest("details.correct[open]");
    if (!open) return;
    open.open = false;
    row(open).focus();
  });

  // --- decisions are sent without leaving the page --------------------------------------------

  section.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (deciding) return;
    deciding = true;
    const { target: form, submitter } = event;
    const place = Math.max(rows().indexOf(row(form)), 0);
    const body = new URLSearchParams(new FormData(form, submitter));
    const saved = saving();
    let made;
    try {
      const answer = await fetch(form.action, { method: "POST", body });
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const now = page.getElementById("statements");
      if (!answer.ok || !now) throw new Error("not saved");
      made = page.getElementById("main").dataset.revision;
      show(now, page, place);
    } catch (fault) {
      if (fault instanceof TypeError) { // no answer at all: the page stays, with what is typed on it
        section.querySelector(".said-by-desk").textContent = section.dataset.silent;
        return;
      }
      // Sent again as a page of its own, it says what is wrong.
      submitter.form.append(Object.assign(document.createElement("input"), { type: "hidden", name: submitter.name, value: submitter.value }));
      form.submit();
    } finally {
      deciding = false;
      saved(made);
    }
  });

  function show(now, page, place) {
    section.replaceChildren(...now.childNodes);
    section.querySelector(".said-by-desk").textContent = page.querySelector(".told")?.textContent.trim() ?? "";
    document.getElementById("open-still")?.replaceChildren(...(page.getElementById("open-still")?.childNodes ?? []));
    // The slip stays what it was typed over: what came meanwhile is joined when it is saved.
    for (const field of document.querySelectorAll("#readings [name=revision]")) {
      field.value = section.querySelector("[name=revision]")?.value ?? field.value;
    }
    const all = rows();
    (all[Math.min(place, all.length - 1)] ?? section.querySelector("h2")).focus();
  }
}
