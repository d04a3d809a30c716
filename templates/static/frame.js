// The frame around an inscription: a box or an outline, kept in the form's own fields, which can be
// typed as well (see desk/frame.py), with every step of it to be taken back.
import { boxOf, clockwise, corners, crossesItself, holdsAnything, NAMES, numbersOf, outlineOf, pointList } from "./shapes.js";

const AT_ONCE = 900; // milliseconds within which nudges by key are one step to take back
const MOST_STEPS = 200;
const QUICKLY = 80; // corners up to which it is looked at every step whether the outline crosses itself

export function frameOn(light, form) {
  const group = document.getElementById("frame");
  const lines = [...group.querySelectorAll("polygon")];
  const fields = NAMES.map((name) => form.elements[`frame_${name}`]);
  const outline = form.elements.frame_outline;
  const numbers = document.getElementById("in-numbers");
  const [undoing, redoing] = ["undo", "redo"].map((name) => document.getElementById(name));
  const listeners = [];
  let past = [];
  let future = [];
  let nudged = 0;
  let shape = typed();
  let pulled = false;

  function typed() {
    return boxOf(fields.map((each) => each.value)) ?? outlineOf(outline.value);
  }

  function fill() {
    const texts = shape?.kind === "box" ? numbersOf(shape) : NAMES.map(() => "");
    fields.forEach((field, index) => { field.value = texts[index]; });
    outline.value = shape?.kind === "outline" ? pointList(shape.points) : "";
  }

  function write() {
    fill();
    if (shape && numbers) numbers.open = true;
    form.dispatchEvent(new Event("changed"));
  }

  function show() {
    group.toggleAttribute("hidden", shape === null);
    if (shape) for (const line of lines) line.setAttribute("points", pointList(corners(shape)));
    const many = pulled && shape?.points?.length > QUICKLY; // each with each takes too long for every step of a pull
    const crossed = !many && shape?.kind === "outline" && crossesItself(shape.points);
    if (crossed && !group.classList.contains("crossed")) light.say(group.dataset.crossed);
    group.classList.toggle("crossed", crossed);
    undoing.disabled = past.length === 0;
    redoing.disabled = future.length === 0;
    for (const tell of listeners) tell();
  }

  // While something is still being pulled or drawn: seen, but not yet a step. What is pulled is seen in
  // the numbers too; what is being drawn is not, so that saving meanwhile keeps the frame before it.
  function preview(next, { numbered = false } = {}) {
    shape = next;
    pulled = true;
    if (numbered) fill();
    show();
    pulled = false;
  }

  // A step from `before` to what is to be; what could hold nothing leaves all as it was.
  function settle(next, before = shape, { nudge = false } = {}) {
    const sound = next === null || holdsAnything(next);
    shape = sound ? next : before;
    if (shape?.kind === "outline") shape = { ...shape, points: clockwise(shape.points) };
    if (sound && next !== before) {
      const now = Date.now();
      if (!(nudge && now - nudged < AT_ONCE)) past = [...past, before].slice(-MOST_STEPS);
      nudged = nudge ? now : 0;
      future = [];
      write();
    }
    show();
    return sound;
  }

  function step(from, to) {
    if (from.length === 0) return;
    to.push(shape);
    shape = from.pop();
    nudged = 0;
    write();
    show();
  }
  const undo = () => step(past, future);
  const redo = () => step(future, past);
  undoing.addEventListener("click", undo);
  redoing.addEventListener("click", redo);

  light.table.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) undo();
    else if (key === "y" || key === "z") redo();
    else return;
    event.preventDefault();
  });

  // Typed in numbers: one step from when a field is entered to when it is left. A frame is a box or an
  // outline: whichever is typed last.
  let entered = null;
  for (const field of [...fields, outline]) {
    field.addEventListener("focus", () => { entered = { shape, kept: false }; });
    field.addEventListener("input", () => {
      if (field === outline) for (const each of fields) each.value = "";
      else outline.value = "";
      if (entered && !entered.kept) {
        past.push(entered.shape);
        future = [];
        entered.kept = true;
      }
      shape = typed();
      show();
    });
  }

  return {
    group, preview, settle, undo, redo,
    get shape() { return shape; },
    onChange: (tell) => { listeners.push(tell); },
    begin() { show(); },
  };
}
