// Pressing the photo fills the points of the form in turn, in its upright pixels; once all four are
// there, it moves the nearest. The outline of four is drawn as it stands in the form.

const photo = document.getElementById("measured");
const marked = document.getElementById("marked");
const drawn = document.querySelectorAll(".outlined polygon");
const rows = ["first", "second", "third", "fourth"].map((name) =>
  ["x", "y"].map((axis) => document.querySelector(`[name=${name}_${axis}]`)));

const points = () => rows.map((row) => row.map((field) => parseFloat(field.value.replace(",", "."))));

function draw() {
  const all = points();
  const whole = all.every((point) => point.every(Number.isFinite));
  for (const each of drawn) each.setAttribute("points", whole ? all.map((point) => point.join(",")).join(" ") : "");
}

photo?.addEventListener("click", (press) => {
  const box = photo.getBoundingClientRect();
  const at = [
    ((press.clientX - box.left) / box.width) * Number(photo.dataset.width),
    ((press.clientY - box.top) / box.height) * Number(photo.dataset.height),
  ];
  const free = rows.findIndex(([x]) => !x.value);
  const far = points().map(([x, y]) => Math.hypot(x - at[0], y - at[1]));
  const which = free < 0 ? far.indexOf(Math.min(...far)) : free;
  if (which < 0) return;
  rows[which].forEach((field, axis) => { field.value = at[axis].toFixed(1); });
  marked.textContent = free < 0 ? `point ${which + 1} moved` : `${free + 1} of up to 4 points marked`;
  draw();
});

for (const field of rows.flat()) field.addEventListener("input", draw);

document.getElementById("again")?.addEventListener("click", () => {
  for (const field of rows.flat()) field.value = "";
  marked.textContent = "no point marked";
  draw();
});
