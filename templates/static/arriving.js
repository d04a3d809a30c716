// Photographs on their way in: how far they are, while they travel. Without this script the forms work
// as they stand. A form with data-one-by-one hands its files over one after the other, so that a line that
// breaks costs one file; one with data-with-progress goes as a whole.

import { token } from "./latest.js";

function make(name, attributes = {}, text = "") {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.textContent = text;
  return element;
}

// A bar with a sentence beneath it, put at the end of a form.
function told(form) {
  form.querySelector(".arriving-told")?.remove();
  const box = make("div", { class: "arriving-told" });
  const bar = make("progress", { class: "arriving-bar", max: "1", value: "0", "aria-label": "Handed over" });
  const says = make("p", { role: "status" });
  const list = make("ul", { class: "arriving" });
  box.append(bar, says, list);
  form.append(box);
  return {
    reach: (share) => { bar.value = share; },
    say: (words) => { says.textContent = words; },
    note: (words) => list.append(make("li", {}, words)),
    onward: (address, words) => {
      const link = make("a", { class: "button", href: address }, words);
      box.append(link);
      link.focus();
    },
  };
}

function send(address, data, onward, reach) {
  return new Promise((resolve, reject) => {
    const line = new XMLHttpRequest();
    line.open("POST", address);
    line.setRequestHeader("X-CSRFToken", token);
    if (onward) line.setRequestHeader("X-Onward", "1");
    line.upload.addEventListener("progress", (event) => { if (event.lengthComputable) reach(event.loaded); });
    line.addEventListener("load", () => resolve(line));
    line.addEventListener("error", () => reject(new Error("the line broke")));
    line.addEventListener("abort", () => reject(new Error("the line broke")));
    line.send(data);
  });
}

function answered(line) {
  try { return JSON.parse(line.responseText); } catch { return null; }
}

let travelling = false;
window.addEventListener("beforeunload", (event) => { if (travelling) event.preventDefault(); });

function chosen(form) {
  const files = [...form.querySelectorAll("input[type=file]")].flatMap((input) => [...input.files]);
  return files.filter((file) => !file.name.startsWith("."));
}

async function oneByOne(form) {
  const files = chosen(form);
  const tell = told(form);
  if (!files.length) return tell.say("No file was chosen: choose several, or a folder.");
  const begun = await send(form.action, new URLSearchParams({ empty: "1" }), true, () => {});
  const card = begun.status === 201 && answered(begun);
  if (!card) return tell.say("The tray cannot be reached. Load the page again.");
  const whole = files.reduce((sum, file) => sum + file.size, 0) || 1;
  let before = 0;
  let failed = 0;
  for (const [index, file] of files.entries()) {
    tell.say(`${index + 1} of ${files.length}: ${file.name}`);
    const reason = await hand(card.more, file, (sent) => tell.reach((before + Math.min(sent, file.size)) / whole));
    if (reason) { failed += 1; tell.note(`${file.name}: ${reason}`); }
    before += file.size;
    tell.reach(before / whole);
  }
  const there = files.length - failed;
  tell.say(`${there} of ${files.length} lie on the tray.`);
  travelling = false;
  if (!failed) location.assign(card.onward);
  else if (there) tell.onward(card.onward, "Go on with those");
}

const OUT = "your time in the studio is over: enter again in another tab, then hand it over again";

// The desk breaks the line to whoever has to enter again and sends much: ask whether that was it.
async function isOut() {
  try {
    return (await fetch(location.pathname, { method: "HEAD", headers: { Accept: "*/*" } })).status === 401;
  } catch {
    return false;
  }
}

// Hand one file over, once more where the line breaks; why it did not arrive, "" where it did.
async function hand(address, file, reach) {
  for (const last of [false, true]) {
    const data = new FormData();
    data.append("written", String(file.lastModified / 1000));
    data.append("files", file, file.webkitRelativePath || file.name);
    try {
      const line = await send(address, data, true, reach);
      if (line.status === 200) return "";
      if (line.status === 413) return "larger than 300 MB";
      if (line.status === 401) return OUT;
      return answered(line)?.refused || "it was not taken";
    } catch (broken) {
      if (last) return (await isOut()) ? OUT : broken.message;
    }
  }
  return "";
}

async function asAWhole(form) {
  const tell = told(form);
  const data = new FormData(form);
  const line = await send(form.action, data, true, (sent) => {
    const whole = chosen(form).reduce((sum, file) => sum + file.size, 0) || 1;
    tell.reach(Math.min(sent / whole, 1));
    tell.say(sent < whole ? "On its way…" : "Being looked at…");
  });
  travelling = false;
  const onward = line.status === 200 && answered(line)?.onward;
  if (onward) return location.assign(onward);
  const page = new DOMParser().parseFromString(line.responseText, "text/html");
  const why = page.querySelector(".stop") || make("p", { class: "stop", role: "alert" }, "It was not taken in. Try again.");
  document.querySelectorAll("main > .stop").forEach((each) => each.remove());
  form.before(document.adoptNode(why));
  form.querySelector(".arriving-told")?.remove();
  why.setAttribute("tabindex", "-1");
  why.focus();
}

for (const form of document.querySelectorAll("form[data-one-by-one], form[data-with-progress]")) {
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (travelling) return;
    travelling = true;
    try {
      await (form.hasAttribute("data-one-by-one") ? oneByOne(form) : asAWhole(form));
    } catch {
      told(form).say("The line broke. What you chose and typed is still here: try again.");
    } finally {
      travelling = false;
    }
  });
}
