// A photo in tiles: only those that can be seen, the coarser ones beneath until the finer have come,
// nothing kept that is far away. Where tiles fail, the picture beneath them stays.

const FINE = 2000; // the longer side of the picture that lies beneath: no tiles while it is fine enough
const SOON = 60; // milliseconds at rest before tiles are asked for
const PLAIN = "plain";

// `layer` is an element as many pixels wide and high as the photo; `address` is where its tiles lie;
// `onto(point)` says where one of its pixels lies on the table.
export function sheetOn(light, layer, { address, width, height, onto = light.toTable, hidden = () => false }) {
  const tiles = new Map(); // by key: the <img> of it
  const listeners = [];
  let cut = null; // how the photo is cut: what tiles.json says
  let way = PLAIN;
  let failed = 0;
  let soon = 0;

  const ready = fetch(`${address}tiles.json`)
    .then((answer) => (answer.ok ? answer.json() : null))
    .catch(() => null)
    .then((said) => {
      cut = said && measured(said);
      update();
      return said;
    });

  function measured({ tile, levels }) {
    const sizes = [{ width, height }];
    while (sizes.length < levels) {
      const { width: wide, height: high } = sizes.at(-1);
      sizes.push({ width: Math.ceil(wide / 2), height: Math.ceil(high / 2) });
    }
    return { tile, sizes };
  }

  // --- which ------------------------------------------------------------------------------------

  function closeness() {
    const middle = { x: width / 2, y: height / 2 };
    const [a, b] = [onto(middle), onto({ x: middle.x + 10, y: middle.y })];
    return (Math.hypot(b.x - a.x, b.y - a.y) / 10) * devicePixelRatio;
  }

  function placeOf({ tile, sizes }, level, x, y) {
    const [across, down] = [width / sizes[level].width, height / sizes[level].height];
    const [left, top] = [x * tile * across, y * tile * down];
    return {
      left, top,
      wide: Math.min((x + 1) * tile, sizes[level].width) * across - left,
      high: Math.min((y + 1) * tile, sizes[level].height) * down - top,
    };
  }

  // Whether a tile, turned as it is, meets the table: on no side of either does all of the other lie beyond.
  function seen({ left, top, wide, high }) {
    const at = [[left, top], [left + wide, top], [left + wide, top + high], [left, top + high]].map(([x, y]) => onto({ x, y }));
    const { clientWidth: across, clientHeight: down } = light.table;
    const table = [[0, 0], [across, 0], [across, down], [0, down]].map(([x, y]) => ({ x, y }));
    const sides = [{ x: 1, y: 0 }, { x: 0, y: 1 }, ...at.map((a, index) => ({ x: a.y - at[(index + 1) % 4].y, y: at[(index + 1) % 4].x - a.x }))];
    return sides.every(({ x, y }) => {
      const [one, other] = [at, table].map((points) => points.map((each) => each.x * x + each.y * y));
      return Math.max(...one) > Math.min(...other) && Math.min(...one) < Math.max(...other);
    });
  }

  function wanted() {
    const { tile, sizes } = cut;
    const last = sizes.length - 1;
    const level = Math.min(Math.max(Math.floor(Math.log2(1 / closeness()) + 0.3), 0), last);
    const found = way === PLAIN ? [] : [[last, 0, 0]];
    const size = sizes[level];
    if ((way === PLAIN && Math.max(size.width, size.height) <= FINE) || (level === last && found.length)) return { level, found };
    for (let y = 0; y * tile < size.height; y += 1) {
      for (let x = 0; x * tile < size.width; x += 1) {
        if (seen(placeOf(cut, level, x, y))) found.push([level, x, y]);
      }
    }
    return { level, found };
  }

  // --- laid and taken away ----------------------------------------------------------------------

  function update() {
    if (!cut || failed > 3 || hidden()) return;
    const { found } = wanted();
    const keys = new Map(found.map((each) => [`${way}/${each[0]}/${each[1]}-${each[2]}`, each]));
    for (const [key, each] of keys) if (!tiles.has(key)) lay(key, each);
    tidy(keys);
  }

  function tidy(keys) {
    const complete = [...keys.keys()].every((key) => tiles.get(key)?.dataset.here);
    for (const [key, image] of tiles) {
      if (keys.has(key)) continue;
      const still = !complete && image.dataset.here && key.startsWith(`${way}/`) && seen(image.place);
      if (!still) { tiles.delete(key); image.remove(); image.removeAttribute("src"); }
    }
    if (complete) for (const tell of listeners) tell(way);
  }

  function lay(key, [level, x, y]) {
    const image = new Image();
    image.alt = "";
    image.decoding = "async";
    image.draggable = false;
    image.place = placeOf(cut, level, x, y);
    const { left, top, wide, high } = image.place;
    Object.assign(image.style, {
      left: `${left}px`, top: `${top}px`, width: `${wide}px`, height: `${high}px`, zIndex: String(cut.sizes.length - level),
    });
    image.addEventListener("load", () => { image.dataset.here = "yes"; update(); });
    image.addEventListener("error", () => {
      if (tiles.get(key) !== image) return; // taken away before it came
      failed += 1;
      image.remove();
      if (failed > 3) clear();
    });
    tiles.set(key, image);
    layer.append(image);
    image.src = `${address}${key}.jpg`;
  }

  function clear() {
    for (const image of tiles.values()) image.remove();
    tiles.clear();
    for (const tell of listeners) tell(null);
  }

  light.onChange(() => {
    clearTimeout(soon);
    soon = setTimeout(update, SOON);
  });

  return {
    ready,
    get lacking() { return failed > 3 || !cut; },
    onComplete: (tell) => { listeners.push(tell); }, // with the way that is seen; null where tiles failed
    look(next) {
      way = next;
      failed = 0;
      update();
    },
  };
}
