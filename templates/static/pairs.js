// Before and after: the one laid over the other, with a slider between them.

for (const section of document.querySelectorAll(".pair-of")) {
  const tools = section.querySelector(".pair-tools");
  const over = tools.querySelector(".over");
  const slide = tools.querySelector(".slide");
  const pair = section.querySelector(".pair");
  const after = pair.querySelector("figure:last-child img");

  const show = () => {
    pair.classList.toggle("laid-over", over.checked);
    slide.disabled = !over.checked;
    after.style.clipPath = over.checked ? `inset(0 0 0 ${slide.value}%)` : "";
  };
  tools.hidden = false;
  over.addEventListener("change", show);
  slide.addEventListener("input", show);
  show();
}
