// The same side in other lights, laid over the photo so that every spot stays where it is: flipped with
// one key, or blended. The frames stay those of the photo on the table.
import { sheetOn } from "./sheets.js";

export function lightsOn(light, lit, looking) {
  const bar = document.getElementById("lights");
  if (!bar) return;
  const own = bar.querySelector("[data-own]");
  const others = [...bar.querySelectorAll("[data-onto]")];
  const blend = document.getElementById("blend");
  const told = document.getElementById("laid-over");
  const laid = new Map(); // by button: { layer, sheet, says }, or null where it could not be laid over
  let shown = null;
  let asked = null;

  // By a matrix of nine numbers, row by row: the other photo's upright pixels onto this one's.
  const onto = ([a, b, c, d, e, f, g, h, i]) => ({ x, y }) => {
    const depth = g * x + h * y + i;
    return light.toTable({ x: (a * x + b * y + c) / depth, y: (d * x + e * y + f) / depth });
  };

  async function lay(button) {
    const data = button.dataset;
    asked?.abort();
    asked = new AbortController();
    let said = { says: bar.dataset.failed };
    try {
      const answer = await fetch(data.onto, { signal: asked.signal });
      said = await answer.json();
      if (!answer.ok) return { refused: [said.says, said.remedy].filter(Boolean).join(" - ") };
    } catch (fault) {
      return fault.name === "AbortError" ? null : { refused: said.says };
    }
    const layer = document.createElement("div");
    layer.className = "laid-over";
    const [a, b, c, d, e, f, g, h, i] = said.matrix;
    const [width, height] = [Number(data.width), Number(data.height)];
    layer.style.width = `${width}px`;
    layer.style.height = `${height}px`;
    layer.style.transform = `matrix3d(${[a, d, 0, g, b, e, 0, h, 0, 0, 1, 0, c, f, 0, i].join(",")})`;
    layer.hidden = true;
    const image = new Image();
    image.alt = "";
    image.className = "beneath";
    image.src = `${data.photo}screen.jpg`;
    layer.append(image);
    lit.append(layer);
    const hidden = () => layer.hidden;
    const sheet = sheetOn(light, layer, { address: data.photo, width, height, onto: onto(said.matrix), hidden });
    if (looking.way !== "plain") sheet.look(looking.way);
    await image.decode().catch(() => {});
    return { layer, sheet, says: said.says };
  }

  async function flip(button) {
    const name = button?.dataset.said ?? own.dataset.said;
    if (button && !laid.get(button)?.layer) {
      told.textContent = bar.dataset.laying.replace("{photo}", name);
      const made = await lay(button);
      if (made === null) return;
      laid.set(button, made);
    }
    const { layer, refused, says } = (button && laid.get(button)) ?? {};
    shown = refused ? null : button;
    for (const each of laid.values()) if (each.layer) each.layer.hidden = each.layer !== layer;
    for (const each of [own, ...others]) each.setAttribute("aria-pressed", String(each === (shown ?? own)));
    blend.disabled = shown === null;
    blend.value = "100";
    mix();
    told.textContent = refused ?? (shown ? bar.dataset.laid.replace("{photo}", name).replaceAll("{own}", own.dataset.said) + (says ? ` ${says}` : "") : "");
    light.refresh();
  }

  function mix() {
    const over = shown && laid.get(shown)?.layer;
    if (over) over.style.opacity = String(Number(blend.value) / 100);
  }

  own.addEventListener("click", () => flip(null));
  for (const each of others) each.addEventListener("click", () => flip(each));
  blend.addEventListener("input", mix);
  blend.disabled = true;
  looking.onAsItIs(() => { if (shown) flip(null); });
  looking.onWay((way) => { for (const each of laid.values()) each?.sheet?.look(way); });
  light.onKey("l", () => {
    const order = [null, ...others.filter((each) => !laid.get(each)?.refused)];
    flip(order[(order.indexOf(shown) + 1) % order.length]);
  });
}
