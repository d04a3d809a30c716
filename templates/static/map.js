// Drawing on the condition map: a box, a line, an outline or a point in mm on the front or the back.
// What is drawn is written into the form's own figures, which can be typed as well; the map itself
// (pictures/map.py) says where each side lies and how many units of the paper a millimetre is.

const SVG = "http://www.w3.org/2000/svg";
const BOX = ["x_mm", "y_mm", "width_mm", "height_mm"];
const SMALLEST_MM = 1;
const form = document.getElementById("place");
const map = document.querySelector("svg.map");
const tools = document.getElementById("tools");

if (form && map) start();

function start() {
  const how = document.getElementById("how");
  const sides = [...map.querySelectorAll(".side")].map(sideOf);
  const top = map.appendChild(made("g", { class: "drawn" }));
  let shape = typed();
  let doing = null; // what the pointer has begun: { side, tool, points }

  tools.hidden = false;
  map.closest(".map-of").classList.add("drawing");
  for (const side of sides) side.group.addEventListener("pointerdown", (event) => begin(event, side));

  // --- sides and points --------------------------------------------------------------------------

  function sideOf(group) {
    const read = Object.fromEntries(["left", "top", "scale", "width", "height"].map((name) => [name, Number(group.dataset[name])]));
    // Something to press and to focus, beneath the marks so that their links stay links.
    const table = made("rect", {
      x: read.left, y: read.top, width: read.width * read.scale, height: read.height * read.scale,
      class: "side-table", tabindex: 0, role: "application",
      "aria-label": `${group.dataset.side}: draw here; arrow keys move what is drawn, plus and minus change its size`,
    });
    group.querySelector(".edge").after(table);
    table.addEventListener("keydown", (event) => keys(event, group.dataset.side));
    return { ...read, name: group.dataset.side, group };
  }

  function mm(event, side) {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(map.getScreenCTM().inverse());
    const within = (value, most) => Math.min(Math.max(value, 0), most);
    return [
      tenth(within((at.x - side.left) / side.scale, side.width)),
      tenth(within((at.y - side.top) / side.scale, side.height)),
    ];
  }

  const paper = (side, [x, y]) => [side.left + x * side.scale, side.top + y * side.scale];

  // --- the form ----------------------------------------------------------------------------------

  function typed() {
    const side = form.elements.face.value === "face/front" ? "front" : "back";
    const said = BOX.map((name) => form.elements[name].value.trim().replace(",", "."));
    const outline = form.elements.outline.value.trim();
    if (outline) {
      const found = /^(POINT|LINESTRING|POLYGON)\s*\(+([^()]*)\)+$/i.exec(outline);
      const points = found?.[2].split(",").map((pair) => pair.trim().split(/\s+/).map(Number));
      if (!points?.every((pair) => pair.length === 2 && pair.every(Number.isFinite))) return null;
      const kind = { POINT: "point", LINESTRING: "line", POLYGON: "outline" }[found[1].toUpperCase()];
      return { side, kind, points: kind === "outline" ? points.slice(0, -1) : points };
    }
    const [x, y, width, height] = said.map((text) => (text === "" ? NaN : Number(text)));
    if (!Number.isFinite(x) || !Number.isFinite(y)) return null;
    if (width > 0 && height > 0) return { side, kind: "box", points: corners(x, y, width, height) };
    return { side, kind: "point", points: [[x, y]] };
  }

  function write() {
    for (const name of [...BOX, "outline"]) form.elements[name].value = "";
    if (!shape) return;
    const front = form.elements.face.value === "face/front";
    if (front !== (shape.side === "front")) form.elements.face.value = `face/${shape.side}`;
    const { kind, points } = shape;
    if (kind === "point") [form.elements.x_mm.value, form.elements.y_mm.value] = points[0];
    else if (kind === "box") {
      const [x, y, width, height] = bounds(points);
      BOX.forEach((name, index) => { form.elements[name].value = tenth([x, y, width, height][index]); });
    } else {
      const said = (kind === "outline" ? [...points, points[0]] : points).map((pair) => pair.map(tenth).join(" ")).join(", ");
      form.elements.outline.value = kind === "outline" ? `POLYGON ((${said}))` : `LINESTRING (${said})`;
    }
  }

  form.addEventListener("input", (event) => {
    if (event.target.name === "tool") { doing = null; tell(); } else shape = typed();
    show();
  });
  document.getElementById("clear").addEventListener("click", () => set(null));

  function set(next) {
    shape = next;
    doing = null;
    write();
    show();
  }

  // --- what is drawn -----------------------------------------------------------------------------

  function show() {
    const now = doing ? { side: doing.side.name, kind: doing.tool, points: doing.points, open: true } : shape;
    top.replaceChildren();
    if (now?.points.length) {
      for (const side of sides) {
        const here = side.name === now.side;
        const points = here ? now.points : now.points.map(([x, y]) => [side.width - x, y]);
        outline(points.map((point) => paper(side, point)), now, here ? "" : "twin");
      }
    }
    tell();
  }

  function outline(points, { kind, open }, twin) {
    if (points.length === 1) {
      const [cx, cy] = points[0];
      top.append(made("circle", { cx, cy, r: 7, class: twin }), made("circle", { cx, cy, r: 1.5, class: twin }));
      return;
    }
    const closed = kind === "box" || (kind === "outline" && !open);
    top.append(made(closed ? "polygon" : "polyline", { points: points.map((pair) => pair.join(",")).join(" "), class: twin }));
  }

  function tell() {
    const tool = form.elements.tool.value;
    how.textContent = {
      box: "Press and draw from corner to corner.",
      point: "Press where it is.",
      line: "Press for each corner; double-click or Enter ends the line, Escape takes the last corner back.",
      outline: "Press for each corner; double-click or Enter closes the outline, Escape takes the last corner back.",
    }[tool];
  }

  // --- pointer -----------------------------------------------------------------------------------

  function begin(event, side) {
    if (event.button !== 0) return;
    const tool = form.elements.tool.value;
    const at = mm(event, side);
    if (tool === "box") {
      // Drawn from the first move on: a press without one stays a press on the mark beneath.
      doing = { side, tool, from: at, points: [] };
      if (!event.target.closest("a")) focus(side);
      return;
    }
    event.preventDefault();
    focus(side);
    if (tool === "point") set({ side: side.name, kind: "point", points: [at] });
    else {
      if (doing?.side !== side) doing = { side, tool, points: [] };
      const last = doing.points.at(-1); // the second press of a double-click is no corner
      if (!last || Math.hypot(at[0] - last[0], at[1] - last[1]) >= SMALLEST_MM) doing.points.push(at);
    }
    show();
  }

  function focus(side) {
    side.group.querySelector(".side-table").focus({ preventScroll: true });
  }

  map.addEventListener("dblclick", () => { if (doing) finish(); });

  map.addEventListener("click", (event) => {
    if (form.elements.tool.value !== "box" && event.target.closest("a")) event.preventDefault();
  });
  map.addEventListener("dragstart", (event) => event.preventDefault());

  map.addEventListener("pointermove", (event) => {
    if (doing?.tool !== "box") return;
    const [x, y, width, height] = bounds([doing.from, mm(event, doing.side)]);
    if (!doing.points.length && Math.max(width, height) < SMALLEST_MM) return;
    if (!map.hasPointerCapture(event.pointerId)) map.setPointerCapture(event.pointerId);
    doing.points = corners(x, y, width, height);
    show();
  });

  map.addEventListener("pointerup", () => {
    if (doing?.tool !== "box") return;
    const { side, points } = doing;
    const [, , width, height] = points.length ? bounds(points) : [0, 0, 0, 0];
    if (width < SMALLEST_MM || height < SMALLEST_MM) { doing = null; show(); return; }
    set({ side: side.name, kind: "box", points });
    focus(side);
  });
  map.addEventListener("pointercancel", () => { if (doing?.tool === "box") { doing = null; show(); } });

  function finish() {
    const { side, tool, points } = doing;
    const fewest = tool === "line" ? 2 : 3;
    if (points.length >= fewest) set({ side: side.name, kind: tool, points });
  }

  // --- keys --------------------------------------------------------------------------------------

  const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

  function keys(event, name) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const far = event.shiftKey ? 10 : 1;
    if (event.key === "Enter" && doing) finish();
    else if (event.key === "Escape" && doing) {
      doing.points.pop();
      if (!doing.points.length) doing = null;
      show();
    } else if (event.key === "Enter" && !shape) {
      const side = sides.find((each) => each.name === name);
      const [x, y] = [side.width / 3, side.height / 3].map(Math.round);
      set({ side: name, kind: "box", points: corners(x, y, Math.max(x, 1), Math.max(y, 1)) });
    } else if (steps[event.key] && shape) {
      const [right, down] = steps[event.key].map((step) => step * far);
      set({ ...shape, side: name, points: shape.points.map(([x, y]) => [tenth(x + right), tenth(y + down)]) });
    } else if (["+", "=", "-"].includes(event.key) && shape?.kind === "box") {
      const by = event.key === "-" ? -far : far;
      const [x, y, width, height] = bounds(shape.points);
      if (width + by < SMALLEST_MM || height + by < SMALLEST_MM) return;
      set({ ...shape, points: corners(x, y, width + by, height + by) });
    } else if ((event.key === "Delete" || event.key === "Backspace") && shape) set(null);
    else return;
    event.preventDefault();
  }

  show();
}

function made(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== "") element.setAttribute(key, value);
  return element;
}

function corners(x, y, width, height) {
  return [[x, y], [x + width, y], [x + width, y + height], [x, y + height]];
}

function bounds(points) {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return [x, y, Math.max(...xs) - x, Math.max(...ys) - y];
}

function tenth(value) {
  return Math.round(value * 10) / 10;
}
