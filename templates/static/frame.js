// The frame around an inscription: drawn upright on the screen, however the photo is turned, and
// kept as five numbers in the photo's upright pixels (see desk/frame.py, which makes its corners).

const NAMES = ["x", "y", "width", "height", "turn"];
const SMALLEST = 4; // pixels of the photo
const tenth = (value) => Math.round(value * 10) / 10;
const radians = (degrees) => (degrees * Math.PI) / 180;

export function frameOn(light, form) {
  const group = document.getElementById("frame");
  const [under, over] = group.querySelectorAll("polygon");
  const handles = [...group.querySelectorAll("circle")];
  const draw = document.getElementById("draw");
  const fields = Object.fromEntries(NAMES.map((name) => [name, form.elements[`frame_${name}`]]));
  let frame = typed();
  let doing = null; // what the pointer is at: drawing, moving, a corner
  let drawing = false;

  // --- numbers and picture -------------------------------------------------------------------

  function typed() {
    const read = Object.fromEntries(NAMES.map((name) => [name, Number(fields[name].value.replace(",", "."))]));
    const given = ["x", "y", "width", "height"].every((name) => fields[name].value.trim() !== "");
    const sound = NAMES.every((name) => Number.isFinite(read[name])) && read.width > 0 && read.height > 0;
    return given && sound ? read : null;
  }

  function set(next, { write = true } = {}) {
    frame = next;
    if (write) {
      for (const name of NAMES) {
        fields[name].value = frame ? String(name === "turn" ? Math.round(frame.turn * 100) / 100 : tenth(frame[name])) : "";
      }
      if (frame) document.getElementById("in-numbers").open = true;
      form.dispatchEvent(new Event("changed"));
    }
    show();
  }

  function axes(turn) {
    return { along: { x: Math.cos(radians(turn)), y: Math.sin(radians(turn)) },
             down: { x: -Math.sin(radians(turn)), y: Math.cos(radians(turn)) } };
  }

  function corners({ x, y, width, height, turn }) {
    const { along, down } = axes(turn);
    return [[0, 0], [width, 0], [width, height], [0, height]].map(([a, b]) => ({
      x: x + a * along.x + b * down.x, y: y + a * along.y + b * down.y,
    }));
  }

  // The box between two opposite points whose sides run along `turn`.
  function between(a, b, turn) {
    const { along, down } = axes(turn);
    const across = (b.x - a.x) * along.x + (b.y - a.y) * along.y;
    const below = (b.x - a.x) * down.x + (b.y - a.y) * down.y;
    const left = Math.min(across, 0);
    const top = Math.min(below, 0);
    return {
      x: a.x + left * along.x + top * down.x, y: a.y + left * along.y + top * down.y,
      width: Math.abs(across), height: Math.abs(below), turn,
    };
  }

  function show() {
    group.toggleAttribute("hidden", frame === null);
    if (!frame) return;
    const points = corners(frame);
    const list = points.map((point) => `${tenth(point.x)},${tenth(point.y)}`).join(" ");
    under.setAttribute("points", list);
    over.setAttribute("points", list);
    handles.forEach((handle, index) => {
      handle.setAttribute("cx", tenth(points[index].x));
      handle.setAttribute("cy", tenth(points[index].y));
      handle.setAttribute("r", 8 / light.view.scale);
    });
  }

  // --- pointer -------------------------------------------------------------------------------

  function setDrawing(on) {
    drawing = on;
    draw.setAttribute("aria-pressed", String(on));
    light.table.classList.toggle("drawing", on);
  }
  draw.addEventListener("click", () => { setDrawing(!drawing); light.table.focus(); });

  light.onlyPanWhen((event) => !drawing && !group.contains(event.target));

  light.table.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || light.isPinching()) { cancel(); return; }
    const at = light.toPhoto(light.point(event));
    const corner = handles.indexOf(event.target);
    if (drawing) {
      doing = { what: "draw", from: at, turn: -light.view.turn, before: frame };
    } else if (corner >= 0) {
      doing = { what: "corner", from: corners(frame)[(corner + 2) % 4], turn: frame.turn, before: frame };
    } else if (group.contains(event.target)) {
      doing = { what: "move", from: at, before: frame };
    } else return;
    light.table.setPointerCapture(event.pointerId);
    event.preventDefault();
    (doing.what === "draw" ? light.table : group).focus();
  });

  light.table.addEventListener("pointermove", (event) => {
    if (!doing) return;
    if (light.isPinching()) { cancel(); return; }
    const at = light.toPhoto(light.point(event));
    if (doing.what === "move") {
      const { before, from } = doing;
      set({ ...before, x: before.x + at.x - from.x, y: before.y + at.y - from.y });
    } else {
      set(between(doing.from, at, doing.turn));
    }
  });

  light.table.addEventListener("pointerup", () => {
    if (!doing) return;
    const { what, before } = doing;
    doing = null;
    if (!frame || frame.width < SMALLEST || frame.height < SMALLEST) set(before);
    else if (what === "draw") { setDrawing(false); group.focus(); }
  });
  light.table.addEventListener("pointercancel", cancel);

  function cancel() {
    if (doing) {
      const { before } = doing;
      doing = null;
      set(before);
    }
  }

  // --- keys ----------------------------------------------------------------------------------

  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  group.addEventListener("keydown", (event) => {
    if (!frame || event.ctrlKey || event.metaKey || event.altKey) return;
    if (steps[event.key]) {
      // As the photo lies on the screen, not as it was taken: up is up.
      const far = event.shiftKey ? 1 : 10;
      const { along, down } = axes(-light.view.turn);
      const [right, below] = steps[event.key].map((step) => step * far);
      set({ ...frame, x: frame.x + right * along.x + below * down.x, y: frame.y + right * along.y + below * down.y });
    } else if (event.key === "Delete" || event.key === "Backspace") {
      set(null);
      light.table.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  });

  light.table.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      if (doing) cancel();
      else if (drawing) setDrawing(false);
      else light.table.focus();
    } else if (event.key === "d" && !event.ctrlKey && !event.metaKey && !event.altKey) {
      setDrawing(!drawing);
      event.preventDefault();
    }
  });

  for (const field of Object.values(fields)) {
    field.addEventListener("input", () => set(typed(), { write: false }));
  }

  light.onChange(show);
  show();
}
