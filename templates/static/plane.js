// Where the photo lies on the table: how close, how far turned, mirrored or not. Only geometry:
// a point is { x, y }, of the table in its own pixels, of the photo in its upright ones.

const CLOSEST = 12;
export const radians = (degrees) => (degrees * Math.PI) / 180;
const within = (value, least, most) => Math.min(Math.max(value, least), most);
const half = (degrees) => Math.round(((((degrees + 180) % 360) + 360) % 360 - 180) * 100) / 100;

export function lying(width, height, table) {
  const view = { scale: 1, turn: 0, x: 0, y: 0, mirrored: false };

  function vectorToTable({ x, y }) {
    const angle = radians(view.turn);
    const across = x * view.scale * (view.mirrored ? -1 : 1);
    const down = y * view.scale;
    return {
      x: across * Math.cos(angle) - down * Math.sin(angle),
      y: across * Math.sin(angle) + down * Math.cos(angle),
    };
  }

  // As the photo lies on the screen, not as it was taken: up is up, however it is turned.
  function vectorToPhoto({ x, y }) {
    const angle = radians(view.turn);
    const across = x * Math.cos(angle) + y * Math.sin(angle);
    const down = y * Math.cos(angle) - x * Math.sin(angle);
    return { x: (across / view.scale) * (view.mirrored ? -1 : 1), y: down / view.scale };
  }

  function toTable(at) {
    const from = vectorToTable(at);
    return { x: from.x + view.x, y: from.y + view.y };
  }

  const toPhoto = (at) => vectorToPhoto({ x: at.x - view.x, y: at.y - view.y });
  const middle = () => ({ x: table.clientWidth / 2, y: table.clientHeight / 2 });

  // Whatever lay under `at` lies there again after the change.
  function holding(at, change) {
    const held = toPhoto(at);
    change();
    put(held, at);
  }

  function put(ofPhoto, at) {
    const now = toTable(ofPhoto);
    view.x += at.x - now.x;
    view.y += at.y - now.y;
  }

  const least = () => Math.min(table.clientWidth / width, table.clientHeight / height) || 0.1;

  function zoom(factor, at = middle()) {
    holding(at, () => { view.scale = within(view.scale * factor, least() / 2, CLOSEST); });
  }

  function turnTo(degrees, at = middle()) {
    holding(at, () => { view.turn = half(degrees); });
  }

  // Left and right of what is seen change places: of a turned photo too, hence the other turn.
  function mirror(at = middle()) {
    holding(at, () => {
      view.mirrored = !view.mirrored;
      view.turn = half(-view.turn);
    });
  }

  function whole() {
    view.turn = 0;
    view.scale = least() * 0.98;
    put({ x: width / 2, y: height / 2 }, middle());
  }

  // As large as these points allow with a margin around them, turned as told.
  function fit(points, degrees) {
    view.turn = half(degrees);
    view.scale = 1;
    const placed = points.map(vectorToTable);
    const [across, down] = ["x", "y"].map((axis) => placed.map((each) => each[axis]));
    const [left, right, top, bottom] = [Math.min(...across), Math.max(...across), Math.min(...down), Math.max(...down)];
    const room = Math.min(table.clientWidth / (right - left || 1), table.clientHeight / (bottom - top || 1));
    view.scale = within(room * 0.7, least() / 2, Math.max(least(), 2));
    const centre = middle();
    view.x = centre.x - ((left + right) / 2) * view.scale;
    view.y = centre.y - ((top + bottom) / 2) * view.scale;
  }

  return {
    view, toPhoto, toTable, vectorToPhoto, middle, zoom, turnTo, mirror, whole, fit,
    // In which direction, in degrees of the photo, a box runs that lies upright on the screen. Mirrored,
    // its sides run from right to left, so that its corners are clockwise on the photo all the same.
    upright: () => (view.mirrored ? view.turn : -view.turn),
    move(x, y) { view.x += x; view.y += y; },
    transform: () =>
      `translate(${view.x}px, ${view.y}px) rotate(${view.turn}deg) scale(${view.scale})${view.mirrored ? " scale(-1, 1)" : ""}`,
  };
}
