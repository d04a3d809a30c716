// Pieces of a page that take longer: fetched one after the other once the page stands, or when their
// slip is opened; without them a link stays that leads to the same.

async function fetchInto(place, address) {
  place.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, { headers: { Accept: "text/html" } });
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
