// The handles of the frame: corners and sides, moved by mouse, pen, touch and keys. What is caught
// is larger than what is seen, so that a finger finds it.
import { cornerAdded, cornerMoved, cornerRemoved, corners, FEWEST, middles, MOST, moved, sideMoved } from "./shapes.js";

const SVG = "http://www.w3.org/2000/svg";
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const ROOM = 46; // pixels of the screen that a side needs for a handle in its middle

export function handlesOn(light, frame) {
  const { group } = frame;
  const words = group.dataset;
  const sides = group.querySelector(".sides");
  const points = group.querySelector(".corners");
  let doing = null; // what the pointer has caught: { pull, before, from }

  function handle(parent, kind, index) {
    const made = document.createElementNS(SVG, "g");
    made.setAttribute("class", `handle ${kind}`);
    made.dataset[kind] = index;
    for (const [name, radius] of [["reach", 14], ["dot", 7]]) {
      const circle = document.createElementNS(SVG, "circle");
      circle.setAttribute("class", name);
      circle.setAttribute("r", radius); // the style sheet may say otherwise
      made.append(circle);
    }
    if (kind === "corner") {
      made.setAttribute("tabindex", "0");
      made.setAttribute("role", "button");
    }
    parent.append(made);
    return made;
  }

  function laid(parent, kind, places, visible) {
    while (parent.childElementCount > places.length) parent.lastElementChild.remove();
    places.forEach((at, index) => {
      const made = parent.children[index] ?? handle(parent, kind, index);
      const laidFor = `${at.x} ${at.y} ${light.view.scale} ${places.length} ${visible(index)}`;
      if (made.laidFor === laidFor) return; // of many corners only those that moved
      made.laidFor = laidFor;
      made.setAttribute("transform", `translate(${at.x} ${at.y}) scale(${1 / light.view.scale})`);
      made.toggleAttribute("hidden", !visible(index));
      if (kind === "corner") {
        const said = words.corner.replace("{n}", index + 1).replace("{of}", places.length);
        made.setAttribute("aria-label", frame.shape.kind === "box" ? said : `${said} ${words.ofOutline}`);
      }
    });
  }

  let shown = null; // what they were last laid for: moving the photo moves them with it
  function show() {
    const { shape } = frame;
    if (!shape || (shown?.shape === shape && shown.scale === light.view.scale)) return;
    shown = { shape, scale: light.view.scale };
    const at = corners(shape);
    const long = (index) => {
      const next = at[(index + 1) % at.length];
      return Math.hypot(next.x - at[index].x, next.y - at[index].y) * light.view.scale > ROOM;
    };
    laid(points, "corner", at, () => true);
    laid(sides, "side", middles(shape), long);
  }
  frame.onChange(show);
  light.onChange(show);

  // --- pointer -------------------------------------------------------------------------------

  light.claim((event) => group.contains(event.target));

  light.table.addEventListener("pointerdown", (event) => {
    if (light.fingers.several()) { giveUp(); return; }
    if (event.button !== 0 || !group.contains(event.target) || light.table.classList.contains("drawing")) return;
    const from = light.toPhoto(light.point(event));
    const before = frame.shape;
    const corner = event.target.closest(".corner");
    const side = event.target.closest(".side");
    doing = { before, from, pull: pull(before, from, corner, side), stirred: false };
    light.table.setPointerCapture(event.pointerId);
    event.preventDefault();
    (corner ?? group).focus();
  });

  function pull(shape, from, corner, side) {
    const index = Number((corner ?? side)?.dataset[corner ? "corner" : "side"]);
    if (corner) return (to) => cornerMoved(shape, index, to);
    if (side && shape.kind === "box") return (to) => sideMoved(shape, index, to);
    if (side) return (to) => (shape.points.length < MOST ? cornerAdded(shape, index, to) : shape);
    return (to) => moved(shape, { x: to.x - from.x, y: to.y - from.y });
  }

  light.table.addEventListener("pointermove", (event) => {
    if (!doing) return;
    if (light.fingers.several()) { giveUp(); return; }
    doing.stirred = true;
    frame.preview(doing.pull(light.toPhoto(light.point(event))), { numbered: true });
  });

  light.table.addEventListener("pointerup", (event) => {
    if (!doing) return;
    const { before, stirred, pull: done, from } = doing;
    const side = event.target.closest?.(".side") ?? null;
    doing = null;
    // A press on the middle of an outline's side adds a corner there, moved or not.
    const pressed = !stirred && before.kind === "outline" && side ? done(from) : null;
    if (stirred || pressed) frame.settle(pressed ?? frame.shape, before);
  });
  light.table.addEventListener("pointercancel", giveUp);

  function giveUp() {
    if (!doing) return false;
    frame.preview(doing.before, { numbered: true });
    doing = null;
    return true;
  }

  // --- keys ----------------------------------------------------------------------------------

  function nudge(event) {
    const far = event.shiftKey ? 1 : 10; // pixels of the photo, in the directions of the screen
    const to = light.vectorToPhoto({ x: STEPS[event.key][0], y: STEPS[event.key][1] });
    return { x: to.x * far * light.view.scale, y: to.y * far * light.view.scale };
  }

  group.addEventListener("keydown", (event) => {
    const { shape } = frame;
    if (!shape || event.ctrlKey || event.metaKey || event.altKey) return;
    const corner = event.target.closest(".corner");
    const index = Number(corner?.dataset.corner);
    if (STEPS[event.key] && corner) nudgeCorner(shape, index, nudge(event));
    else if (STEPS[event.key]) frame.settle(moved(shape, nudge(event)), shape, { nudge: true });
    else if ((event.key === "Enter" || event.key === "Insert") && corner && shape.kind === "outline") add(shape, index);
    else if (event.key === "Delete" || event.key === "Backspace") remove(shape, corner ? index : -1);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });

  function nudgeCorner(shape, index, by) {
    const at = corners(shape)[index];
    const next = cornerMoved(shape, index, { x: at.x + by.x, y: at.y + by.y });
    // A corner of a box stops before it passes the one across: it would become another corner.
    const same = corners(next)[index];
    if (Math.hypot(same.x - at.x - by.x, same.y - at.y - by.y) > 0.01) return;
    frame.settle(next, shape, { nudge: true });
  }

  function add(shape, index) {
    if (shape.points.length >= MOST) return;
    frame.settle(cornerAdded(shape, index, middles(shape)[index]), shape);
    points.children[index + 1]?.focus();
    light.say(words.added);
  }

  function remove(shape, index) {
    if (index >= 0 && shape.kind === "outline") {
      if (shape.points.length <= FEWEST || !frame.settle(cornerRemoved(shape, index), shape)) {
        light.say(words.fewest);
        return;
      }
      points.children[Math.min(index, points.childElementCount - 1)]?.focus();
      return;
    }
    frame.settle(null, shape);
    light.table.focus();
  }

  light.table.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    if (!giveUp() && group.contains(event.target)) light.table.focus();
  });
}
