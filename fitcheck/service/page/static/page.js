// What the page does beyond links and forms: it fetches parts of itself, and looks at the text while it is written.

import { $, focusOn } from "./base.js";
import { markLookedAt, startDrawing } from "./drawing.js";
import { startEditor } from "./editor.js";
import { startElsewhere } from "./elsewhere.js";
import { startForms } from "./forms.js";
import { startKeys } from "./keys.js";
import { startLinks } from "./links.js";
import { startWide } from "./wide.js";

function startPaper() {
  addEventListener("beforeprint", () => { for (const each of document.querySelectorAll("#sheets details")) each.open = true; });
  $("print").hidden = false;
  $("print").addEventListener("click", () => print());
}

startDrawing();
startEditor(null);
markLookedAt();
startLinks();
startForms();
startKeys();
if (new URLSearchParams(location.search).get("at") && location.hash === "#panel") focusOn("panel-title");
startWide();
startPaper();
startElsewhere();
