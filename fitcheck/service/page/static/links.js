// Links: some parts of the page are fetched, and the address says what is shown; back and forward do the same.

import { addressOf, click, go, isLast, noteShown, wasShown } from "./address.js";
import { $, ALL, actsSoFar, bringUp, focusOn, here } from "./base.js";
import { zoomBy } from "./drawing.js";
import { dirty, goTo, mayLeave } from "./editor.js";
import { fetchParts } from "./parts.js";

const TABS = { view: "drawing", file: "editor", variant: ALL };
let opener = null;

function partsFor(url, link) {
  if (link.dataset.leave || link.dataset.again) return ALL;
  if (link.dataset.only) return TABS[link.dataset.only];
  if (link.dataset.panel) return link.dataset.panel;
  const tried = [url.searchParams, new URLSearchParams(location.search)].some((said) => said.has("part") || said.has("changes"));
  return tried || document.querySelector(".drawing.would") ? "drawing,panel" : "panel";
}

export async function follow(link, url) {
  const parts = partsFor(url, link);
  if (parts === "editor" && !mayLeave()) return;
  const mine = click();
  const since = actsSoFar();
  if (!$("panel").contains(link)) opener = { at: link.getAttribute("href"), element: link };
  const leaving = link.dataset.leave === "1";
  const over = leaving && $("panel").querySelector("textarea[name=text]").value;
  const keepEditor = !leaving && parts !== "editor" && dirty();
  go(url);
  const answer = await fetchParts(url, parts, { keepEditor, ...(leaving && dirty() ? { over } : {}) });
  if (!answer || !isLast(mine)) return;
  if (parts.includes("panel") && link.dataset.close === "1") return back();
  if (parts === "editor") focusOn("text", since);
  else if (link.dataset.panel) focusOn(`${parts}-title`, since);
  else if (parts.includes("panel") && !link.dataset.only) focusOn("panel-title", since);
  else {
    const tab = document.querySelector(`[aria-current][data-only="${link.dataset.only}"]`);
    if (tab) tab.focus();
  }
}

function back() {
  const found = opener && (opener.element.isConnected ? opener.element : document.querySelector(`a[href="${CSS.escape(opener.at)}"]`));
  (found || $("main")).focus();
}

function clicked(event) {
  if (event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  const line = event.target.closest("a.line");
  if (line) { event.preventDefault(); return goTo(+line.dataset.line, +line.dataset.column); }
  const zoom = event.target.closest("[data-zoom]");
  if (zoom) return zoomBy(zoom.dataset.zoom);
  const drawing = event.target.closest(".drawing");
  const mark = drawing && event.target.closest("[data-finding]");
  if (mark) {
    event.preventDefault();
    return follow(mark.closest("a") || mark, addressOf(new URL(mark.dataset.look, location.href), mark));
  }
  const link = event.target.closest("a[href]") || (drawing && nearby(event));
  if (!link) return;
  const href = link.getAttribute("href");
  if (href.startsWith("#")) {
    const place = $(href.slice(1));
    if (place) requestAnimationFrame(() => bringUp(place));
    return;
  }
  const url = new URL(href, location.href);
  if (url.origin !== location.origin || url.pathname !== "/" || !$("panel")) return;
  event.preventDefault();
  follow(link, addressOf(url, link));
}

function nearby(event) {
  for (const far of [5, 9]) {
    for (const [x, y] of [[1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [1, -1], [-1, 1], [-1, -1]]) {
      const found = document.elementFromPoint(event.clientX + far * x, event.clientY + far * y);
      const link = found && found.closest(".drawing a[href]");
      if (link) return link;
    }
  }
  return null;
}

// Back and forward: whatever differs from what is shown is fetched
function moved() {
  if (here() === wasShown()) return; // a place within the page
  click();
  const now = new URL(location.href);
  const { build, variant } = $("head").dataset;
  const file = document.querySelector("#text-form [name=file]").value;
  const before = new URL(wasShown(), location.origin).searchParams;
  const differs = (...names) => names.some((name) => before.get(name) !== now.searchParams.get(name));
  const otherFile = (now.searchParams.get("file") || build) !== file;
  const stays = otherFile && !mayLeave();
  if (stays) {
    now.searchParams.set("file", file);
    history.replaceState(null, "", now);
  }
  noteShown();
  const parts = ["drawing,panel"];
  if (otherFile && !stays) parts.push("editor");
  if (differs("aim", "by", "cured")) parts.push("purchase");
  if (differs("plots")) parts.push("pedal");
  fetchParts(here(), (now.searchParams.get("variant") || "") !== variant ? ALL : parts.join(","), { keepEditor: stays || (!otherFile && dirty()) });
}

export function startLinks() {
  document.addEventListener("click", clicked);
  addEventListener("popstate", moved);
}
