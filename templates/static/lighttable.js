// The photo on the light table: moved, brought closer, turned and mirrored, by wheel, fingers and keys.
// Styles are set through element.style, which the policy allows; nothing is written as a style attribute.
import { fingersOn } from "./fingers.js";
import { lying } from "./plane.js";

export function lightTable(table) {
  const turning = document.getElementById("turning");
  const width = Number(table.dataset.width);
  const height = Number(table.dataset.height);
  const plane = lying(width, height, table);
  const { view } = plane;
  const listeners = [];
  const claims = [];
  const keys = new Map();
  let settled = null; // how the photo was laid of itself, until somebody moves it

  turning.style.width = `${width}px`;
  turning.style.height = `${height}px`;

  function show() {
    turning.style.transform = plane.transform();
    turning.style.setProperty("--closer", String(1 / view.scale));
    for (const tell of listeners) tell();
  }

  function by(act) {
    return (...given) => {
      settled = null;
      act(...given);
      show();
    };
  }

  function laid(how) {
    how();
    settled = how;
    show();
  }

  const zoom = by(plane.zoom);
  const move = by(plane.move);
  const turnTo = by(plane.turnTo);
  const mirror = by(plane.mirror);
  const whole = () => laid(plane.whole);
  const fit = (points, degrees = view.turn) => laid(() => plane.fit(points, degrees));

  // --- the tools above the table -------------------------------------------------------------

  const turn = document.getElementById("turn");
  const turned = document.getElementById("turned");
  const mirrored = document.getElementById("mirrored");
  const warning = document.getElementById("mirror-warning");
  const takenMirrored = table.dataset.mirrored === "yes";
  listeners.push(() => {
    if (document.activeElement !== turn) turn.value = String(view.turn);
    turned.textContent = `${Math.round(view.turn * 10) / 10}°`;
    mirrored.setAttribute("aria-pressed", String(view.mirrored));
    const swapped = view.mirrored !== takenMirrored;
    table.classList.toggle("swapped", swapped);
    const said = swapped ? (takenMirrored ? warning.dataset.taken : warning.dataset.seen) : "";
    if (warning.textContent !== said) warning.textContent = said;
    warning.hidden = !swapped;
  });
  turn.addEventListener("input", () => turnTo(Number(turn.value)));
  mirrored.addEventListener("click", () => mirror());
  document.getElementById("closer").addEventListener("click", () => zoom(1.4));
  document.getElementById("further").addEventListener("click", () => zoom(1 / 1.4));
  document.getElementById("whole").addEventListener("click", whole);

  // --- wheel, fingers, keys ------------------------------------------------------------------

  function point(event) {
    const box = table.getBoundingClientRect();
    return { x: event.clientX - box.left - table.clientLeft, y: event.clientY - box.top - table.clientTop };
  }

  table.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0016)), point(event));
  }, { passive: false });
  table.addEventListener("dragstart", (event) => event.preventDefault());
  table.addEventListener("dblclick", (event) => {
    if (!claims.some((claim) => claim(event))) zoom(2, point(event));
  });

  const fingers = fingersOn(table, {
    point, move, zoom,
    turnBy: (degrees, at) => turnTo(view.turn + degrees, at),
    mayPan: (event) => !claims.some((claim) => claim(event)),
  });

  for (const [key, act] of [
    ["+", () => zoom(1.25)], ["=", () => zoom(1.25)], ["-", () => zoom(0.8)], ["0", whole], ["m", () => mirror()],
    ["[", () => turnTo(view.turn - 1)], ["]", () => turnTo(view.turn + 1)],
    ["{", () => turnTo(view.turn - 15)], ["}", () => turnTo(view.turn + 15)],
    ["ArrowLeft", () => move(40, 0)], ["ArrowRight", () => move(-40, 0)],
    ["ArrowUp", () => move(0, 40)], ["ArrowDown", () => move(0, -40)],
  ]) keys.set(key, act);

  table.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    const act = keys.get(event.key);
    if (!act) return;
    event.preventDefault();
    act(event);
  });

  // --- the room it has -------------------------------------------------------------------------

  let room = { width: table.clientWidth, height: table.clientHeight };
  new ResizeObserver(() => {
    const now = { width: table.clientWidth, height: table.clientHeight };
    if (now.width === room.width && now.height === room.height) return;
    if (settled) settled();
    else plane.move((now.width - room.width) / 2, (now.height - room.height) / 2);
    room = now;
    show();
  }).observe(table);

  whole();

  const said = document.getElementById("table-said");
  return {
    table, turning, view, width, height, point, move, zoom, turnTo, mirror, whole, fit, fingers,
    toPhoto: plane.toPhoto, toTable: plane.toTable, vectorToPhoto: plane.vectorToPhoto,
    upright: plane.upright, middle: plane.middle,
    onChange: (tell) => { listeners.push(tell); },
    claim: (decide) => { claims.push(decide); }, // what a press means, if it is not to move the photo
    onKey: (key, act) => { keys.set(key, act); },
    refresh: show,
    say: (words) => { said.textContent = words; },
    unsay: (words) => { if (said.textContent === words) said.textContent = ""; },
  };
}
