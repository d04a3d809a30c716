// The text grows with what is typed, and the rendering shows the line that one is at.

const MOST = 0.6; // of the window's height: a longer text scrolls

export function growing(form) {
  const markup = form.elements.markup;
  const rendered = document.getElementById("rendered");

  function grow() {
    const before = markup.offsetHeight;
    const most = Math.round(innerHeight * MOST);
    if (markup.scrollHeight > before && before < most) {
      markup.style.height = `${Math.min(most, markup.scrollHeight + markup.offsetHeight - markup.clientHeight)}px`;
    }
  }

  function keep_in_step() {
    const shown = rendered.querySelector(".rendering");
    const hidden = shown ? shown.scrollHeight - shown.clientHeight : 0;
    if (hidden <= 0) return;
    const lines = markup.value.split("\n").length;
    const here = markup.value.slice(0, markup.selectionStart).split("\n").length;
    shown.scrollTop = lines > 1 ? (hidden * (here - 1)) / (lines - 1) : 0;
  }

  markup.addEventListener("input", grow);
  for (const each of ["input", "keyup", "click", "focus"]) markup.addEventListener(each, keep_in_step);
  // The piece is put there anew while one types.
  new MutationObserver(keep_in_step).observe(rendered, { childList: true });
  grow();
}
