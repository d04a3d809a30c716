// How the photo is looked at: brighter, inverted, or in a view that the desk has enhanced. Whatever is
// not the photo as it was taken says so on the table, and one key puts everything back.

const PLAIN = "plain";

export function lookingOn(light, sheet, lit) {
  const [brightness, contrast, invert] = ["brightness", "contrast", "invert"].map((name) => document.getElementById(name));
  const ways = document.getElementById("way");
  const saysOf = document.getElementById("way-says");
  const told = document.getElementById("enhanced");
  const photo = document.getElementById("photo");
  const listeners = [];
  const plainly = [];
  const says = new Map();

  function show() {
    const [bright, strong] = [Number(brightness.value), Number(contrast.value)];
    const filters = [
      bright !== 100 && `brightness(${bright}%)`, strong !== 100 && `contrast(${strong}%)`, invert.checked && "invert(1)",
    ].filter(Boolean);
    lit.style.filter = filters.join(" ");
    const way = ways.value !== PLAIN ? ways.selectedOptions[0].textContent : "";
    const what = [way, filters.length ? told.dataset.filtered : ""].filter(Boolean);
    told.hidden = what.length === 0;
    if (what.length) told.textContent = `${told.dataset.words}: ${what.join(", ")}`;
    saysOf.textContent = says.get(ways.value) ?? "";
  }
  for (const each of [brightness, contrast, invert]) each.addEventListener("input", show);

  function look(way) {
    ways.value = way;
    show();
    light.table.classList.toggle("making", way !== PLAIN);
    if (way !== PLAIN) light.say(told.dataset.making);
    else light.unsay(told.dataset.making);
    sheet.look(way);
    for (const tell of listeners) tell(way);
  }
  ways.addEventListener("change", () => look(ways.value));

  function next(step) {
    const { length } = ways.options;
    if (!ways.disabled) look(ways.options[(ways.selectedIndex + step + length) % length].value);
  }

  sheet.onComplete((way) => {
    light.table.classList.remove("making");
    if (way === null && ways.value !== PLAIN) {
      look(PLAIN);
      light.say(told.dataset.failed);
    } else if (way === null) photo.src = light.table.dataset.full;
    else if (way === ways.value && way !== PLAIN) light.unsay(told.dataset.making);
  });

  sheet.ready.then((said) => {
    if (!said) {
      // Without tiles the whole picture comes once it is needed, as large as it is.
      const sharper = () => {
        if (light.view.scale * Math.max(light.width, light.height) > 2200 && !photo.dataset.full) {
          photo.dataset.full = "yes";
          photo.src = light.table.dataset.full;
        }
      };
      light.onChange(sharper);
      sharper();
      return;
    }
    for (const { key, label, says: words } of said.ways) {
      says.set(key, words);
      if (key !== PLAIN) ways.append(new Option(label, key));
    }
    ways.disabled = ways.options.length < 2;
  });

  function asItIs() {
    for (const each of [brightness, contrast]) each.value = "100";
    invert.checked = false;
    if (light.view.mirrored) light.mirror();
    if (ways.value !== PLAIN) look(PLAIN);
    show();
    for (const tell of plainly) tell();
  }
  document.getElementById("as-it-is").addEventListener("click", asItIs);
  light.onKey("a", asItIs);
  light.onKey("i", () => { invert.checked = !invert.checked; show(); });
  light.onKey("w", () => next(1));
  light.onKey("W", () => next(-1));

  // A browser that goes back to this page keeps what the fields held.
  addEventListener("pageshow", show);
  show();
  return {
    get way() { return ways.value; },
    onWay: (tell) => { listeners.push(tell); },
    onAsItIs: (tell) => { plainly.push(tell); },
  };
}
