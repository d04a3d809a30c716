// Drawing a new frame: a box from corner to corner, upright on the screen however the photo is turned,
// or an outline corner by corner; by pulling, by single presses, or with a cross moved by the arrow keys.
import { between, FEWEST, MOST, pointList } from "./shapes.js";

const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const NEAR = 12; // pixels of the screen within which a press meets an earlier corner
const STILL = 4;

export function drawingOn(light, frame) {
  const buttons = { box: document.getElementById("draw"), outline: document.getElementById("outline") };
  const cross = document.getElementById("cross");
  const begun = document.getElementById("begun");
  const words = document.getElementById("drawing-words").dataset;
  const label = buttons.outline.textContent;
  let mode = null;
  let placed = []; // corners set so far, on the photo
  let before = null;
  let at = light.middle(); // where the cross is, on the table
  let press = null; // the pointer that is down: where it came down, on the table
  let waiting = false; // for all fingers to leave after two of them were down

  function draw(next) {
    if (mode) frame.preview(before);
    mode = next;
    placed = [];
    press = null;
    before = frame.shape;
    at = light.middle();
    for (const [name, button] of Object.entries(buttons)) button.setAttribute("aria-pressed", String(name === mode));
    light.table.classList.toggle("drawing", mode !== null);
    light.say(mode ? words[mode] : "");
    show();
  }

  const toggle = (wanted) => {
    if (mode === "outline" && wanted === "outline" && finish()) return;
    draw(mode === wanted ? null : wanted);
    light.table.focus();
  };
  for (const [name, button] of Object.entries(buttons)) button.addEventListener("click", () => toggle(name));
  for (const name of ["undo", "redo"]) document.getElementById(name).addEventListener("click", () => { if (mode) draw(null); }, true);
  light.onKey("d", () => toggle("box"));
  light.onKey("o", () => toggle("outline"));
  light.claim(() => mode !== null);

  // --- what is drawn so far ----------------------------------------------------------------------

  function shapeWith(points) {
    if (mode === "box") return points.length > 1 ? between(points[0], points[1], light.upright()) : null;
    return points.length >= FEWEST ? { kind: "outline", points } : null;
  }

  function show() {
    const here = light.toPhoto(at);
    const points = mode ? [...placed, here] : [];
    const shape = mode ? shapeWith(points) : null;
    cross.toggleAttribute("hidden", !mode || press !== null);
    cross.setAttribute("transform", `translate(${here.x} ${here.y}) rotate(${-light.view.turn}) scale(${1 / light.view.scale})`);
    begun.toggleAttribute("hidden", placed.length === 0 || shape !== null);
    for (const line of begun.children) line.setAttribute("points", pointList(points));
    buttons.outline.textContent = mode === "outline" && placed.length >= FEWEST ? words.finish : label;
    if (mode) frame.preview(shape ?? (placed.length ? null : before));
  }
  light.onChange(() => { if (mode) show(); });

  function meets(corner) {
    const there = light.toTable(corner);
    return Math.hypot(there.x - at.x, there.y - at.y) <= NEAR;
  }

  function place() {
    const full = mode === "outline" && placed.length >= FEWEST;
    if (full && (meets(placed[0]) || meets(placed.at(-1)))) { finish(); return; }
    if (placed.length && meets(placed.at(-1))) return; // the second of two quick presses
    if (placed.length < MOST) placed.push(light.toPhoto(at));
    if (mode === "box" && placed.length === 2) { finish(); return; }
    light.say(words.placed.replace("{n}", placed.length));
    show();
  }

  function finish() {
    const [shape, was] = [shapeWith(placed), before];
    if (!shape) return false;
    draw(null);
    if (frame.settle(shape, was)) {
      light.say(words.done);
      frame.group.focus();
    } else light.say(words.small);
    return true;
  }

  // --- pointer -------------------------------------------------------------------------------

  light.table.addEventListener("pointerdown", (event) => {
    if (!mode || event.button !== 0) return;
    if (light.fingers.several()) {
      // Two fingers move the photo: what the first began is taken back.
      if (press) placed = press.placed;
      [press, waiting] = [null, true];
      show();
      return;
    }
    at = light.point(event);
    press = { from: at, placed: [...placed] };
    if (mode === "box" && placed.length === 0) placed.push(light.toPhoto(at));
    light.table.setPointerCapture(event.pointerId);
    event.preventDefault();
    light.table.focus();
    show();
  });

  light.table.addEventListener("pointermove", (event) => {
    if (!mode || waiting || light.fingers.several()) return;
    at = light.point(event);
    show();
  });

  light.table.addEventListener("pointerup", (event) => {
    if (light.fingers.several()) return;
    if (waiting) { waiting = false; return; }
    if (!mode || !press) return;
    at = light.point(event);
    const pulled = Math.hypot(at.x - press.from.x, at.y - press.from.y) > STILL;
    const first = mode === "box" && press.placed.length === 0;
    press = null;
    // Pulled from corner to corner, or pressed once for each.
    if (first && !pulled) show();
    else place();
  });
  light.table.addEventListener("pointercancel", () => {
    if (press) placed = press.placed;
    [press, waiting] = [null, false];
    if (mode) show();
  });

  // --- keys ----------------------------------------------------------------------------------

  light.table.addEventListener("keydown", (event) => {
    const command = event.ctrlKey || event.metaKey;
    if (!mode || event.altKey || (command && event.key.toLowerCase() !== "z")) return;
    if (STEPS[event.key]) {
      const far = event.shiftKey ? 1 : 10;
      at = { x: at.x + STEPS[event.key][0] * far, y: at.y + STEPS[event.key][1] * far };
      show();
    } else if (event.key === " " || (event.key === "Enter" && mode === "box")) place();
    else if (event.key === "Enter") finish();
    else if (event.key === "Backspace" || command) { placed.pop(); show(); }
    else if (event.key === "Escape") draw(null);
    else return;
    event.preventDefault();
    event.stopImmediatePropagation();
  }, true);
}
