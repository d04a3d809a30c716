// Fingers, pens and the mouse on the table: one moves the photo, two bring it closer and turn it.

const STILL = 3; // pixels that a press may tremble and still be a press
const STIFF = 7; // degrees that two fingers may turn while they only spread

export function fingersOn(table, { point, move, zoom, turnBy, mayPan }) {
  const down = new Map();
  let pan = null;
  let pinch = null;

  function span() {
    const [a, b] = [...down.values()];
    return {
      apart: Math.max(Math.hypot(a.x - b.x, a.y - b.y), 1),
      angle: (Math.atan2(b.y - a.y, b.x - a.x) * 180) / Math.PI,
      middle: { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 },
    };
  }

  table.addEventListener("pointerdown", (event) => {
    down.set(event.pointerId, point(event));
    if (down.size === 2) {
      pan = null;
      pinch = { ...span(), turned: 0, loose: false };
    } else if (down.size === 1 && event.button === 0 && mayPan(event)) {
      pan = { from: point(event), at: point(event), begun: false };
    }
  });

  table.addEventListener("pointermove", (event) => {
    if (!down.has(event.pointerId)) return;
    const at = point(event);
    down.set(event.pointerId, at);
    if (pinch && down.size === 2) spread();
    else if (pan) {
      if (!pan.begun && Math.hypot(at.x - pan.from.x, at.y - pan.from.y) <= STILL) return;
      if (!pan.begun) table.setPointerCapture(event.pointerId); // only now, so that a press on a link stays one
      move(at.x - pan.at.x, at.y - pan.at.y);
      pan = { ...pan, at, begun: true };
    }
  });

  function spread() {
    const now = span();
    zoom(now.apart / pinch.apart, now.middle);
    move(now.middle.x - pinch.middle.x, now.middle.y - pinch.middle.y);
    const step = ((now.angle - pinch.angle + 540) % 360) - 180;
    const turned = pinch.turned + step;
    const loose = pinch.loose || Math.abs(turned) > STIFF;
    if (pinch.loose) turnBy(step, now.middle);
    else if (loose) turnBy(turned - Math.sign(turned) * STIFF, now.middle);
    pinch = { ...now, turned, loose };
  }

  for (const name of ["pointerup", "pointercancel"]) {
    addEventListener(name, (event) => {
      down.delete(event.pointerId);
      pan = null;
      if (down.size < 2) pinch = null;
    });
  }

  return { several: () => down.size > 1 };
}
