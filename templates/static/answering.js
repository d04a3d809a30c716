// A form goes off only while the desk answers; else the browser would show a page of its own in its place.

const PATIENCE = 8000; // how long an answer is waited for

/** Hold a form back until the desk answered at its `data-here`. `silent` is called where it did not, `sent` when the form goes. */
export function whileItAnswers(form, { silent, sent }) {
  let asking = false;
  let sure = false; // the desk answered just now: the form may be sent

  document.addEventListener("submit", async (event) => {
    if (event.target !== form) return;
    if (sure) { sure = false; sent(); return; }
    event.preventDefault();
    event.stopImmediatePropagation();
    if (asking) return; // pressed twice, it is sent once
    asking = true;
    const button = event.submitter;
    try {
      const answer = await fetch(form.dataset.here, { signal: AbortSignal.timeout(PATIENCE), cache: "no-store" });
      if (!answer.ok) throw new Error(answer.status);
    } catch {
      silent();
      return;
    } finally {
      asking = false;
    }
    sure = true;
    form.requestSubmit(button ?? undefined);
    sure = false; // where the browser itself found a blank to complain about
  }, true);
}
