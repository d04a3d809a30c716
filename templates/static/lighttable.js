// The photo on the light table: moved, brought closer, turned, lit. Styles are set through
// element.style, which the policy allows; nothing is ever written as a style attribute.

const CLOSEST = 12;
const SCREEN_PX = 2000; // the longer side of the picture that is loaded first

export function lightTable(table) {
  const turning = document.getElementById("turning");
  const photo = document.getElementById("photo");
  const width = Number(table.dataset.width);
  const height = Number(table.dataset.height);
  const view = { scale: 1, turn: 0, x: 0, y: 0 };
  const listeners = [];
  const fingers = new Map();
  let mayPan = () => true;
  let pan = null;
  let pinch = null;

  turning.style.width = `${width}px`;
  turning.style.height = `${height}px`;

  function show() {
    turning.style.transform =
      `translate(${view.x}px, ${view.y}px) rotate(${view.turn}deg) scale(${view.scale})`;
    turning.style.setProperty("--closer", String(1 / view.scale));
    if (photo.dataset.full !== "yes" && view.scale * Math.max(width, height) > SCREEN_PX * 1.1) {
      photo.dataset.full = "yes";
      photo.src = table.dataset.full;
    }
    for (const tell of listeners) tell();
  }

  // From the table's own pixels to the photo's upright ones, and back.
  function toPhoto(at) {
    const angle = (-view.turn * Math.PI) / 180;
    const x = (at.x - view.x) / view.scale;
    const y = (at.y - view.y) / view.scale;
    return { x: x * Math.cos(angle) - y * Math.sin(angle), y: x * Math.sin(angle) + y * Math.cos(angle) };
  }

  function toTable(at) {
    const angle = (view.turn * Math.PI) / 180;
    return {
      x: (at.x * Math.cos(angle) - at.y * Math.sin(angle)) * view.scale + view.x,
      y: (at.x * Math.sin(angle) + at.y * Math.cos(angle)) * view.scale + view.y,
    };
  }

  function point(event) {
    const box = table.getBoundingClientRect();
    return { x: event.clientX - box.left - table.clientLeft, y: event.clientY - box.top - table.clientTop };
  }

  const middle = () => ({ x: table.clientWidth / 2, y: table.clientHeight / 2 });

  // Whatever lay under `at` lies there again after the change.
  function holding(at, change) {
    const held = toPhoto(at);
    change();
    const now = toTable(held);
    view.x += at.x - now.x;
    view.y += at.y - now.y;
    show();
  }

  function zoom(factor, at = middle()) {
    holding(at, () => {
      view.scale = Math.min(Math.max(view.scale * factor, least() / 2), CLOSEST);
    });
  }

  function turnTo(degrees, at = middle()) {
    holding(at, () => {
      view.turn = Math.round(((((degrees + 180) % 360) + 360) % 360 - 180) * 100) / 100;
    });
    tellTurn();
  }

  function least() {
    return Math.min(table.clientWidth / width, table.clientHeight / height) || 0.1;
  }

  function whole() {
    view.scale = least() * 0.98;
    const centre = toTable({ x: width / 2, y: height / 2 });
    view.x += table.clientWidth / 2 - centre.x;
    view.y += table.clientHeight / 2 - centre.y;
    show();
  }

  function move(x, y) {
    view.x += x;
    view.y += y;
    show();
  }

  // --- the tools above the table -------------------------------------------------------------

  const turn = document.getElementById("turn");
  const turned = document.getElementById("turned");
  function tellTurn() {
    turn.value = String(view.turn);
    turned.textContent = `${Math.round(view.turn * 10) / 10}°`;
  }
  turn.addEventListener("input", () => turnTo(Number(turn.value)));
  document.getElementById("closer").addEventListener("click", () => zoom(1.4));
  document.getElementById("further").addEventListener("click", () => zoom(1 / 1.4));
  document.getElementById("whole").addEventListener("click", () => { turnTo(0); whole(); });

  const light = ["brightness", "contrast", "invert"].map((name) => document.getElementById(name));
  for (const each of light) {
    each.addEventListener("input", () => {
      const [brightness, contrast, invert] = light;
      photo.style.filter =
        `brightness(${brightness.value}%) contrast(${contrast.value}%)` + (invert.checked ? " invert(1)" : "");
    });
  }

  // --- wheel, fingers, keys ------------------------------------------------------------------

  table.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode ? 0.05 : 0.0016)), point(event));
  }, { passive: false });

  table.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, point(event));
    if (fingers.size === 2) {
      pan = null;
      pinch = span();
    } else if (event.button === 0 && mayPan(event)) {
      pan = point(event);
      table.setPointerCapture(event.pointerId);
    }
  });

  table.addEventListener("pointermove", (event) => {
    if (!fingers.has(event.pointerId)) return;
    const at = point(event);
    fingers.set(event.pointerId, at);
    if (pinch && fingers.size === 2) {
      const now = span();
      zoom(now.apart / pinch.apart, now.middle);
      move(now.middle.x - pinch.middle.x, now.middle.y - pinch.middle.y);
      pinch = now;
    } else if (pan) {
      move(at.x - pan.x, at.y - pan.y);
      pan = at;
    }
  });

  for (const name of ["pointerup", "pointercancel"]) {
    table.addEventListener(name, (event) => {
      fingers.delete(event.pointerId);
      pan = null;
      if (fingers.size < 2) pinch = null;
    });
  }

  function span() {
    const [a, b] = [...fingers.values()];
    return {
      apart: Math.max(Math.hypot(a.x - b.x, a.y - b.y), 1),
      middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 },
    };
  }

  const keys = {
    "+": () => zoom(1.25),
    "=": () => zoom(1.25),
    "-": () => zoom(0.8),
    "0": () => { turnTo(0); whole(); },
    "[": () => turnTo(view.turn - 1),
    "]": () => turnTo(view.turn + 1),
    "{": () => turnTo(view.turn - 15),
    "}": () => turnTo(view.turn + 15),
    ArrowLeft: () => move(40, 0),
    ArrowRight: () => move(-40, 0),
    ArrowUp: () => move(0, 40),
    ArrowDown: () => move(0, -40),
  };
  table.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    if (keys[event.key]) {
      event.preventDefault();
      keys[event.key]();
    }
  });

  whole();
  new ResizeObserver(() => show()).observe(table);

  return {
    table, view, width, height, point, toPhoto, toTable, move, zoom, turnTo, whole,
    onChange: (tell) => listeners.push(tell),
    onlyPanWhen: (decide) => { mayPan = decide; },
    isPinching: () => fingers.size > 1,
  };
}
