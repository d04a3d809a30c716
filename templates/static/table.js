// The light table of the reading page: what lies on it, and who does what.
import { lightTable } from "./lighttable.js";
import { frameOn } from "./frame.js";

const table = document.getElementById("table");

if (table) frameOn(lightTable(table), document.getElementById("slip"));
