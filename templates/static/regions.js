// The numbered frames on the photo and the list of what stands on it, in step: what is pointed at in
// one is seen in the other, n goes to the next, and pressing a frame opens its inscription.

export function regionsOn(light, frame) {
  const overlay = document.getElementById("overlay");
  const others = [...overlay.querySelectorAll("a.other")].map((link) => ({
    link, id: link.dataset.inscription, text: link.querySelector("text"), points: pointsOf(link.querySelector("polygon")),
  }));
  const listed = new Map();
  for (const each of document.querySelectorAll("a[data-inscription]:not(.other), [data-listed]")) {
    const id = each.dataset.inscription ?? each.dataset.listed;
    listed.set(id, [...(listed.get(id) ?? []), each]);
  }

  function pointsOf(polygon) {
    return polygon.getAttribute("points").trim().split(/\s+/).map((pair) => {
      const [x, y] = pair.split(",").map(Number);
      return { x, y };
    });
  }

  // What lies within another is drawn above it, so that it can be pressed.
  const size = (points) => {
    const [across, down] = [points.map((each) => each.x), points.map((each) => each.y)];
    return (Math.max(...across) - Math.min(...across)) * (Math.max(...down) - Math.min(...down));
  };
  for (const { link } of [...others].sort((a, b) => size(b.points) - size(a.points))) {
    overlay.insertBefore(link, frame.group);
  }

  let shown = "";
  function show() {
    const { turn, mirrored } = light.view;
    if (shown === `${turn} ${mirrored}`) return; // moved or closer, they move with the photo
    shown = `${turn} ${mirrored}`;
    for (const { text, points } of others) {
      const seen = points.map((each) => ({ ...each, on: light.toTable(each) }));
      const first = seen.reduce((best, each) => (each.on.x + each.on.y < best.on.x + best.on.y ? each : best));
      // Upright and never in mirror writing, however the photo lies.
      text.setAttribute("transform",
        `translate(${first.x} ${first.y}) scale(${mirrored ? -1 : 1} 1) rotate(${-turn})`);
    }
  }
  light.onChange(show);
  show();

  // --- in step ---------------------------------------------------------------------------------

  function pointAt(id, on) {
    for (const each of others) if (each.id === id) each.link.classList.toggle("pointed", on);
    for (const each of listed.get(id) ?? []) each.classList.toggle("pointed", on);
    if (frame.group.dataset.inscription === id) frame.group.classList.toggle("pointed", on);
  }
  const all = [...others.map((each) => [each.id, each.link]), ...[...listed].flatMap(([id, links]) => links.map((each) => [id, each]))];
  for (const [id, each] of all) {
    for (const name of ["pointerenter", "focus"]) each.addEventListener(name, () => pointAt(id, true));
    for (const name of ["pointerleave", "blur"]) each.addEventListener(name, () => pointAt(id, false));
  }

  function go(step) {
    const order = [...others].sort((a, b) => a.link.dataset.order - b.link.dataset.order);
    if (order.length === 0) return;
    const now = order.findIndex(({ link }) => link === document.activeElement);
    const next = order[now < 0 && step < 0 ? order.length - 1 : (now + step + order.length) % order.length];
    next.link.focus({ preventScroll: true });
    bring(next.points);
  }
  light.onKey("n", () => go(1));
  light.onKey("N", () => go(-1));

  // Into the table if it is not to be seen there, as large as it is.
  function bring(points) {
    const at = points.map(light.toTable);
    const [across, down] = [at.map((each) => each.x), at.map((each) => each.y)];
    const centre = { x: (Math.min(...across) + Math.max(...across)) / 2, y: (Math.min(...down) + Math.max(...down)) / 2 };
    const { clientWidth: wide, clientHeight: high } = light.table;
    if (centre.x > 0 && centre.y > 0 && centre.x < wide && centre.y < high) return;
    light.move(wide / 2 - centre.x, high / 2 - centre.y);
  }
}
