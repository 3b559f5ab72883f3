// The address of the page, and which click was the last.

import { here } from "./base.js";

const ONE_BUILD = ["of", "tag", "part", "changes", "act", "words", "every"];
let clicks = 0; // the last of them wins, in whatever order they are answered
let shown = here(); // the address that the page was last asked for

export const click = () => (clicks += 1);
export const isLast = (mine) => mine === clicks;
export const wasShown = () => shown;
export const noteShown = () => { shown = here(); };

export function go(url) {
  if (new URL(url, location.href).href !== location.href) history.pushState(null, "", url);
  noteShown();
}

// A tab changes one thing of the address; another link says all but the view, the variant and the file
export function addressOf(url, link) {
  const now = new URL(here(), location.origin);
  const only = link.dataset.only;
  const [from, to] = only ? [url, now] : [now, url];
  for (const name of only ? [only] : ["view", "variant", "file"]) {
    const said = from.searchParams.get(name);
    if (said) to.searchParams.set(name, said);
    else to.searchParams.delete(name);
  }
  if (only === "variant") {
    for (const name of ONE_BUILD) to.searchParams.delete(name);
    if ((to.searchParams.get("at") || "").startsWith("finding ")) to.searchParams.delete("at");
  }
  to.hash = url.hash;
  return to;
}
