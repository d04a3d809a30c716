// The light table of the reading page: what lies on it, and who does what.
import { drawingOn } from "./drawing.js";
import { frameOn } from "./frame.js";
import { handlesOn } from "./handles.js";
import { lightsOn } from "./lights.js";
import { lightTable } from "./lighttable.js";
import { lookingOn } from "./looking.js";
import { measuringOn } from "./measuring.js";
import { regionsOn } from "./regions.js";
import { roomFor } from "./room.js";
import { corners } from "./shapes.js";
import { sheetOn } from "./sheets.js";

const table = document.getElementById("table");

document.documentElement.classList.add("scripted");
if (table) {
  const room = roomFor(table);
  const lit = document.getElementById("lit");
  const light = lightTable(table);
  const sheet = sheetOn(light, document.getElementById("tiles"), {
    address: table.dataset.photo, width: light.width, height: light.height,
  });
  const looking = lookingOn(light, sheet, lit);
  lightsOn(light, lit, looking);
  const frame = frameOn(light, document.getElementById("slip"));
  drawingOn(light, frame);
  handlesOn(light, frame);
  measuringOn(light);
  regionsOn(light, frame);
  frame.begin();
  // What is being read is laid level and as large as the table allows.
  if (frame.shape) light.fit(corners(frame.shape), frame.shape.kind === "box" ? -frame.shape.turn : 0);
  light.onKey("f", room.change);
}
