// A form of a value: saved from the keyboard, and not left by mistake while something is unsaved.

const form = document.getElementById("enter");
const save = document.getElementById("save");
let unsaved = form.dataset.unsaved === "yes";
let sending = false;

form.addEventListener("input", () => { unsaved = true; });
form.addEventListener("submit", () => { sending = true; });
addEventListener("pageshow", (event) => { if (event.persisted) sending = false; });

document.addEventListener("keydown", (event) => {
  const command = event.ctrlKey || event.metaKey;
  if (command && !event.altKey && (event.key === "Enter" || event.key.toLowerCase() === "s")) {
    event.preventDefault();
    if (!sending) form.requestSubmit(save);
  }
});

addEventListener("beforeunload", (event) => {
  if (unsaved && !sending && !form.dataset.draft) event.preventDefault(); // a draft is kept without asking
});

// A refusal leads to its blank, with the cursor in it.
const refused = document.getElementById("refused");
refused?.focus();
refused?.addEventListener("click", (event) => {
  const blank = document.getElementById(event.target.closest("a")?.hash.slice(1) ?? "");
  if (!blank) return;
  event.preventDefault();
  for (let around = blank; around; around = around.parentElement) if (around.tagName === "DETAILS") around.open = true;
  (blank.matches("input, select, textarea") ? blank : blank.querySelector("input:not([type=hidden]), select, textarea"))?.focus();
});
