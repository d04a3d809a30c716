// Pieces of a page that take longer: fetched one after the other once the page stands, or when their
// slip is opened; without them a link stays that leads to the same. What the desk is still at work on
// ("accepted") is asked for again.

const LOOK_AGAIN_MS = 2000;
const ACCEPTED = 202;
const pause = (milliseconds) => new Promise((go) => setTimeout(go, milliseconds));

function asked(address) {
  return fetch(address, { headers: { Accept: "text/html" } });
}

async function fetchInto(place, address) {
  place.setAttribute("aria-busy", "true");
  try {
    let answer = await asked(address);
    while (answer.status === ACCEPTED) {
      await pause(LOOK_AGAIN_MS);
      answer = await asked(address);
    }
    if (!answer.ok || answer.redirected) throw new Error(answer.statusText);
    place.innerHTML = await answer.text();
  } catch {
    // The link that stands there leads to the same.
  }
  place.removeAttribute("aria-busy");
}

async function inTurn(places) {
  for (const place of places) await fetchInto(place, place.dataset.later);
}

inTurn(document.querySelectorAll("[data-later]"));

for (const slip of document.querySelectorAll("details[data-when-open]")) {
  const once = () => {
    const place = document.createElement("div");
    place.append(...slip.querySelectorAll(":scope > :not(summary)"));
    slip.append(place);
    fetchInto(place, slip.dataset.whenOpen);
  };
  slip.addEventListener("toggle", once, { once: true });
}
