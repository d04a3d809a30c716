// The scale of the photo: a bar on the table, and a line laid along something whose length is known.
// The line is two ends that are pulled or moved with the arrow keys; the length is kept by the scaling page.
import { saving } from "./together.js";

const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const WIDEST = 170; // pixels of the screen that the bar may take

export function measuringOn(light) {
  const button = document.getElementById("measure");
  const form = document.getElementById("measuring");
  const bar = document.getElementById("scale-bar");
  const line = document.getElementById("measure-line");
  const strokes = [...line.querySelectorAll("line")];
  const ends = [...line.querySelectorAll(".handle")];
  const told = form.querySelector("output");
  const length = form.elements.length_mm;
  let mmPerPixel = Number(light.table.dataset.mmPerPixel) || 0;
  let points = [];
  let held = -1;

  // --- the bar ---------------------------------------------------------------------------------

  function showBar() {
    bar.hidden = !mmPerPixel;
    if (!mmPerPixel) return;
    const pixels = light.view.scale / mmPerPixel; // of the screen, to the mm
    const most = WIDEST / pixels;
    const ten = 10 ** Math.floor(Math.log10(most));
    const mm = [5, 2, 1].map((each) => each * ten).find((each) => each <= most) ?? ten;
    bar.firstElementChild.style.width = `${mm * pixels}px`;
    bar.lastElementChild.textContent = `${Number(mm.toPrecision(1))} mm`;
  }
  light.onChange(showBar);
  showBar();

  // --- the line --------------------------------------------------------------------------------

  const measuring = () => points.length > 0;
  const pixelsLong = () => Math.hypot(points[1].x - points[0].x, points[1].y - points[0].y);

  function show() {
    line.toggleAttribute("hidden", !measuring());
    form.hidden = !measuring();
    button.setAttribute("aria-pressed", String(measuring()));
    if (!measuring()) return;
    const [a, b] = points;
    for (const each of strokes) {
      for (const [name, value] of Object.entries({ x1: a.x, y1: a.y, x2: b.x, y2: b.y })) each.setAttribute(name, value);
    }
    ends.forEach((each, index) => {
      each.setAttribute("transform", `translate(${points[index].x} ${points[index].y}) scale(${1 / light.view.scale})`);
    });
    ["first", "second"].forEach((name, index) => {
      form.elements[`${name}_x`].value = points[index].x.toFixed(1);
      form.elements[`${name}_y`].value = points[index].y.toFixed(1);
    });
    const pixels = form.dataset.pixels.replace("{n}", Math.round(pixelsLong()));
    told.textContent = mmPerPixel ? form.dataset.mm.replace("{n}", (pixelsLong() * mmPerPixel).toFixed(1)) : pixels;
  }
  light.onChange(() => { if (measuring()) show(); });

  function toggle() {
    const { x, y } = light.middle();
    points = measuring() ? [] : [x * 0.5, x * 1.5].map((across) => light.toPhoto({ x: across, y }));
    form.querySelector(".said-back").textContent = "";
    show();
    if (measuring()) ends[0].focus();
    else light.table.focus();
  }
  button.addEventListener("click", toggle);
  light.onKey("r", toggle);
  form.querySelector("[data-leave]").addEventListener("click", toggle);

  light.claim((event) => line.contains(event.target));
  light.table.addEventListener("pointerdown", (event) => {
    held = ends.findIndex((each) => each.contains(event.target));
    if (held < 0 || event.button !== 0) return;
    light.table.setPointerCapture(event.pointerId);
    event.preventDefault();
    ends[held].focus();
  });
  light.table.addEventListener("pointermove", (event) => {
    if (held < 0 || !measuring() || light.fingers.several()) return;
    points[held] = light.toPhoto(light.point(event));
    show();
  });
  for (const name of ["pointerup", "pointercancel"]) light.table.addEventListener(name, () => { held = -1; });

  ends.forEach((each, index) => each.addEventListener("keydown", (event) => {
    if (event.key === "Escape") toggle();
    else if (STEPS[event.key]) {
      const far = event.shiftKey ? 1 : 10;
      const by = light.vectorToPhoto({ x: STEPS[event.key][0] * far, y: STEPS[event.key][1] * far });
      points[index] = { x: points[index].x + by.x, y: points[index].y + by.y };
      show();
    } else if (event.key === "Enter") length.focus();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }));

  // --- kept, without leaving what is half typed on the slip ---------------------------------------

  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const said = form.querySelector(".said-back");
    const saved = saving();
    let made;
    try {
      const answer = await fetch(form.action, {
        method: "POST", headers: { Accept: "application/json" }, body: new URLSearchParams(new FormData(form)),
      });
      const { says, remedy, mm_per_pixel: kept, revision } = await answer.json();
      said.textContent = [says, remedy].filter(Boolean).join(" - ");
      if (!answer.ok) { length.focus(); return; }
      mmPerPixel = kept;
      form.elements.revision.value = made = revision;
      length.value = "";
      light.refresh();
    } catch {
      said.textContent = form.dataset.failed;
    } finally {
      saved(made);
    }
  });
}
