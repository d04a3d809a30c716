// Pressing the photo fills the points of the form in turn, in its upright pixels.

const photo = document.getElementById("measured");
const marked = document.getElementById("marked");
const rows = ["first", "second", "third", "fourth"].map((name) =>
  ["x", "y"].map((axis) => document.querySelector(`[name=${name}_${axis}]`)));

photo?.addEventListener("click", (press) => {
  const free = rows.findIndex(([x]) => !x.value);
  if (free < 0) return;
  const box = photo.getBoundingClientRect();
  const at = [
    ((press.clientX - box.left) / box.width) * Number(photo.dataset.width),
    ((press.clientY - box.top) / box.height) * Number(photo.dataset.height),
  ];
  rows[free].forEach((field, axis) => { field.value = at[axis].toFixed(1); });
  marked.textContent = `${free + 1} of up to 4 points marked`;
});

document.getElementById("again")?.addEventListener("click", () => {
  for (const field of rows.flat()) field.value = "";
  marked.textContent = "no point marked";
});
