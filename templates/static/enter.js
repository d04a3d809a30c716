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
  if (unsaved && !sending) event.preventDefault();
});

document.getElementById("refused")?.focus();
