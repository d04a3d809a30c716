// The reading page: what is on it, and who does what.
import { lightTable } from "./lighttable.js";
import { frameOn } from "./frame.js";
import { signs } from "./signs.js";
import { slip } from "./slip.js";
import { statements } from "./statements.js";

const form = document.getElementById("slip");
const table = document.getElementById("table");

slip(form);
signs(form);
statements(document.getElementById("statements"));
if (table) frameOn(lightTable(table), form);
