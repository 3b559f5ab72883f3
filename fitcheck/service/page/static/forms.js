// Forms: what is asked, tried, written, undone.

import { addressOf, click, go, isLast } from "./address.js";
import { $, QUICK, actsSoFar, focusOn, here } from "./base.js";
import { markLookedAt } from "./drawing.js";
import { dirty } from "./editor.js";
import { follow } from "./links.js";
import { fetchParts, slowly } from "./parts.js";

let writing = false; // a second click on a button that writes is no second change

function submitted(event) {
  const form = event.target;
  if (!form.dataset.parts) return;
  event.preventDefault();
  const button = event.submitter;
  const fields = new URLSearchParams(new FormData(form, button));
  if (form.method === "get") {
    const url = new URL(form.action, location.href);
    url.search = fields;
    follow(form, addressOf(url, form));
    return;
  }
  const action = (button && button.getAttribute("formaction")) || form.getAttribute("action");
  const now = new URLSearchParams(location.search);
  for (const name of form.classList.contains("history") ? ["view", "variant", "file", "at"] : ["view", "variant"]) fields.set(name, now.get(name) || "");
  send(action, fields, form.id === "text-form");
}

async function send(action, fields, ownText) {
  const seeing = action === "/page/text" && fields.get("do") === "see";
  if (writing && !seeing) return;
  const fromConflict = action === "/page/text" && !ownText;
  const keepEditor = seeing || (!ownText && !fromConflict && dirty());
  const options = { method: "POST", body: fields, seeing, keepEditor, carry: ownText };
  const mine = click();
  const since = actsSoFar();
  if (fromConflict && dirty()) options.over = fields.get("text").replace(/\r\n/g, "\n");
  const would = action === "/page/accept" && document.querySelector(".drawing.would");
  if (!seeing) writing = true;
  const answer = await fetchParts(action, seeing ? "drawing,panel" : would ? QUICK.replace("drawing,", "") : QUICK, options);
  if (!seeing) writing = false;
  if (!answer) return;
  if (would && answer.redirected) { // it is drawn already
    would.classList.remove("would");
    would.previousElementSibling.remove();
  }
  if (!isLast(mine)) {
    if (answer.redirected) fetchParts(here(), "drawing,panel");
  } else if (answer.redirected) {
    go(answer.url);
    markLookedAt();
    $("panel").closest("aside").scrollTop = 0;
    focusOn("notice", since);
  } else {
    focusOn(seeing || document.querySelector("#panel .alert") ? "panel-title" : "notice", since);
  }
  if (!seeing) slowly(true, would ? ",drawing" : "");
}

export function startForms() {
  document.addEventListener("submit", submitted);
}
