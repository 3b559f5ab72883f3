// Changes made elsewhere: they are noticed, and shown when the reader says so.

import { $, QUICK, STATE_EVERY, tell } from "./base.js";
import { dirty } from "./editor.js";
import { isBusy, show } from "./parts.js";

async function state() {
  if (document.hidden || isBusy()) return;
  const before = $("head").dataset.key;
  try {
    const answer = await fetch("/page/state", { credentials: "same-origin" });
    const box = $("changed");
    if (!answer.ok) return;
    const { key, gone } = await answer.json();
    if (gone && box.hidden) { tell(`The build cannot be read now: ${gone}. What is shown is as it was.`); box.dataset.gone = "1"; }
    if (!gone && box.dataset.gone) { box.hidden = true; delete box.dataset.gone; }
    if (gone || isBusy() || before !== $("head").dataset.key || key === before) return;
  } catch { return; }
  if (!$("changed").hidden) return;
  const kept = dirty() ? " Your text is not saved; it stays as it is." : "";
  tell(`A file of this build was changed elsewhere.${kept}`, "Show it as it is now", () => show(QUICK));
}

export function startElsewhere() {
  setInterval(state, STATE_EVERY);
  addEventListener("focus", state);
}
