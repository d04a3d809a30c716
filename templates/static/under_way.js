// The page of an errand: asks the desk how far it is and shows that, until it is over.

const LOOK_AGAIN_MS = 1000;
const shown = document.getElementById("errand");

async function look() {
  let piece;
  try {
    const answer = await fetch(shown.dataset.piece, { headers: { Accept: "text/html" } });
    if (!answer.ok) return location.reload();
    piece = await answer.text();
  } catch {
    // The desk is away for a moment: look again, and less often.
    return setTimeout(look, 5 * LOOK_AGAIN_MS);
  }
  // A reader of screens hears a change of words; the figures change without one.
  const fresh = new DOMParser().parseFromString(piece, "text/html").querySelector(".errand");
  if (!same(fresh)) shown.replaceChildren(fresh);
  if (fresh.dataset.over === "yes") document.getElementById("meanwhile")?.remove();
  else setTimeout(look, LOOK_AGAIN_MS);
}

function same(fresh) {
  const [here, there] = [shown, fresh].map((each) => each.querySelector(".how-far"));
  const words = (piece) => piece.querySelector(".state").textContent.trim();
  if (!here || !there || words(shown) !== words(fresh)) return false;
  here.replaceWith(there);
  return true;
}

if (shown.querySelector(".errand").dataset.over === "no") setTimeout(look, LOOK_AGAIN_MS);
