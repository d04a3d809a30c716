// The reading page: what is on it, and who does what.
import { foretelling } from "./foretelling.js";
import { growing } from "./growing.js";
import { keys } from "./keys.js";
import { signs } from "./signs.js";
import { slip } from "./slip.js";
import { statements } from "./statements.js";

const form = document.getElementById("slip");

slip(form);
foretelling(form);
growing(form);
keys();
signs(form);
statements(document.getElementById("statements"));
