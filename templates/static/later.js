// Pieces of a page that take longer: fetched one after the other once the page stands; without them a link stays.

async function fetchInTurn(places) {
  for (const place of places) {
    place.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(place.dataset.later, { headers: { Accept: "text/html" } });
      if (!answer.ok || answer.redirected) throw new Error(answer.statusText);
      place.innerHTML = await answer.text();
    } catch {
      // The link that stands there leads to the same.
    }
    place.removeAttribute("aria-busy");
  }
}

fetchInTurn(document.querySelectorAll("[data-later]"));
