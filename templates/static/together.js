// Two people on one record: says that this page is open, and shows who else has it, or saved it meanwhile.
// What this page saves itself, without being loaded again, it tells with `saving`: that is no news to it.

import { onlyTheLatest, token } from "./latest.js";

const EVERY = 20000; // milliseconds; the desk forgets a page that was silent for a minute
const FIRST = 400;

const main = document.getElementById("main");
const line = document.getElementById("together");
const asking = onlyTheLatest();
let under_way = 0; // saves of this page that nobody answered yet
const own = new Set(); // revisions that this page made over one of somebody else

function said(more = {}) {
  return new URLSearchParams({ record: main.dataset.record, revision: main.dataset.revision, own: [...own].join(" "), ...more });
}

/** A save of this page is sent; what comes back is told which revision it made, nothing where none was. */
export function saving() {
  under_way += 1;
  asking.drop(); // else it could be told of its own save
  return (revision) => {
    under_way -= 1;
    const made = Number(revision);
    // Right after what is shown: nobody's was between them.
    if (made === Number(main.dataset.revision) + 1) main.dataset.revision = String(made);
    else if (made > Number(main.dataset.revision)) own.add(made);
    look();
  };
}

async function look() {
  if (document.hidden || under_way || !main.dataset.record) return; // a page that nobody looks at is not open
  try {
    const answer = await asking.ask(main.dataset.together, said(), { redirect: "error" });
    if (!answer.ok) return;
    // The desk's own words, in which names are escaped.
    const words = await answer.text();
    if (line.dataset.shown !== words) {
      line.innerHTML = words;
      line.dataset.shown = words;
    }
  } catch { /* the desk is silent: the next word will tell */ }
}

if (main.dataset.record && line) {
  setTimeout(look, FIRST);
  setInterval(look, EVERY);
  document.addEventListener("visibilitychange", look);
  addEventListener("pageshow", (event) => { if (event.persisted) look(); });
  addEventListener("pagehide", () => {
    asking.drop();
    navigator.sendBeacon?.(main.dataset.together, said({ leave: "yes", csrf_token: token }));
  });
}
