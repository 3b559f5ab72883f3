// Parts of the page: asked for by the address that the browser would load, and put in the place of the old ones.

import { $, QUICK, SLOW, here, tell, text, why } from "./base.js";
import { keepZoom, markLookedAt, startDrawing } from "./drawing.js";
import { dirty, startEditor, typed } from "./editor.js";
import { reachSoon } from "./wide.js";

let busy = 0;
let turn = 0;
const turns = {}; // of each part of the page: the latest time that it was asked for

export const isBusy = () => busy > 0;

export async function fetchParts(url, parts, options = {}) {
  const mine = ++turn;
  const over = options.over ?? (text() ? text().value : "");
  const writes = options.method === "POST" && !options.seeing;
  for (const part of parts.split(",")) turns[part] = mine;
  document.body.classList.add("busy");
  busy += 1;
  let answer = null;
  try {
    answer = await fetch(url, { ...options, headers: { "Fitcheck-Parts": parts }, credentials: "same-origin" });
    const type = answer.headers.get("content-type") || "";
    if (!type.startsWith("text/html")) throw new Error(type.includes("json") ? (await answer.json()).detail : answer.statusText);
    const html = await answer.text();
    place(html, { ...options, over, wanted: (part) => turns[part === "tiles" ? "drawing" : part] === mine || (writes && !(part === "panel" && answer.redirected)) });
    return answer;
  } catch (error) {
    if (writes) tellUnwritten(answer, error);
    else tell(`The page could not be brought up to date: ${why(error, answer)}.`, "Try again", () => fetchParts(url, parts, options));
    return null;
  } finally {
    busy -= 1;
    document.body.classList.toggle("busy", busy > 0);
  }
}

// Of what was to be written it is said whether it was, as far as that is known
function tellUnwritten(answer, error) {
  if (answer && !answer.redirected && answer.status < 500) return tell(`Nothing was written: ${why(error, answer)}.`, "Close", () => {});
  const known = answer && answer.redirected ? "It was written, but the page could not be brought up to date" : "It is not known whether it was written";
  return tell(`${known}: ${why(error, answer)}.`, "Show what is there now", () => show(QUICK));
}

// Ask for all of the page again; a text that is not saved stays
export async function show(parts) {
  const answer = await fetchParts(here(), parts, { keepEditor: dirty() });
  if (answer) slowly(dirty());
}

// What was typed into the file after `over` was sent or given up is never taken away
function place(html, { keepEditor, over, carry, wanted }) {
  const found = new DOMParser().parseFromString(html, "text/html");
  for (const part of [...found.body.children]) {
    const old = part.id && $(part.id);
    if (!old || !wanted(part.id)) continue;
    const since = part.id === "editor" && text().value !== over;
    if (part.id === "editor" && (keepEditor || (since && !carry))) continue;
    if (part.id === "drawing") keepZoom(old, part);
    if (part.id === "head") $("changed").hidden = true; // what it said is shown now
    const typing = part.id === "editor" ? { ...typed(old), text: since ? text().value : null } : null;
    old.replaceWith(document.adoptNode(part));
    if (part.id === "editor") startEditor(typing);
    if (part.id === "drawing") startDrawing();
  }
  markLookedAt();
  reachSoon();
}

export function slowly(keepEditor, more = "") {
  fetchParts(here(), `${SLOW}${more}`, { keepEditor });
}
