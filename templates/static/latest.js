// Only the latest of several questions to the desk counts: a newer one takes the place of an older one.

export const token = document.querySelector("meta[name=csrf-token]")?.content;

export function onlyTheLatest() {
  let asking = null;
  return {
    /** Post `body`; a question that a newer one took the place of ends with an AbortError. */
    ask(address, body, more = {}) {
      asking?.abort();
      asking = new AbortController();
      return fetch(address, { method: "POST", headers: { "X-CSRFToken": token }, body, signal: asking.signal, ...more });
    },
    drop: () => asking?.abort(),
  };
}
