// The reading page: what is on it, and who does what.
import { signs } from "./signs.js";
import { slip } from "./slip.js";
import { statements } from "./statements.js";

const form = document.getElementById("slip");

slip(form);
signs(form);
statements(document.getElementById("statements"));
