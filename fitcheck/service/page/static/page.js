// What the page does beyond links and forms: it fetches parts of itself, and looks at the text while it is written.

import { $, actsSoFar, focusOn } from "./base.js";
import { markLookedAt, startDrawing } from "./drawing.js";
import { startEditor } from "./editor.js";
import { startElsewhere } from "./elsewhere.js";
import { startForms } from "./forms.js";
import { startKeys } from "./keys.js";
import { startLinks } from "./links.js";
import { startWide } from "./wide.js";

const LINKED_AFTER = [50, 150, 400, 1000];

function startPaper() {
  addEventListener("beforeprint", () => { for (const each of document.querySelectorAll("#sheets details")) each.open = true; });
  $("print").hidden = false;
  $("print").addEventListener("click", () => print());
}

// The browser goes to the place in the address by itself once all is loaded, and takes the focus away again
function startLinked() {
  if (!new URLSearchParams(location.search).get("at") || location.hash !== "#panel") return;
  const again = () => { if (!actsSoFar() && document.activeElement === document.body) focusOn("panel-title"); };
  again();
  for (const wait of LINKED_AFTER) setTimeout(again, wait);
}

startDrawing();
startEditor(null);
markLookedAt();
startLinks();
startForms();
startKeys();
startWide();
startPaper();
startElsewhere();
startLinked();
