// What the page does beyond links and forms: it fetches parts of itself, and looks at the text while it is written.
"use strict";
(() => {
  const ALL = "head,notice,drawing,findings,unchecked,joints,bill,purchase,sheets,pedal,panel,editor";
  const QUICK = "head,notice,drawing,findings,panel,editor,quick";
  const SLOW = "findings,unchecked,joints,bill,purchase,sheets,pedal";
  const LOOK_AFTER = 250;
  const REACH_AFTER = 150;
  const STATE_EVERY = 3000;
  const ONE_BUILD = ["of", "tag", "part", "changes", "act", "words", "every"];
  const $ = (id) => document.getElementById(id);
  if (document.body.dataset.gone) return waitForBuild();
  const text = () => $("text");
  let saved = "";
  let opener = null;
  let busy = 0;
  let turn = 0;
  let clicks = 0; // the last of them wins, in whatever order they are answered
  let shown = ""; // the address that the page was last asked for
  const turns = {}; // of each part of the page: the latest time that it was asked for

  // Parts of the page

  async function fetchParts(url, parts, options = {}) {
    const mine = ++turn;
    const over = options.over ?? (text() ? text().value : "");
    const writes = options.method === "POST" && !options.seeing;
    for (const part of parts.split(",")) turns[part] = mine;
    document.body.classList.add("busy");
    busy += 1;
    try {
      const answer = await fetch(url, { ...options, headers: { "Fitcheck-Parts": parts }, credentials: "same-origin" });
      const type = answer.headers.get("content-type") || "";
      if (!type.startsWith("text/html")) throw new Error(type.includes("json") ? (await answer.json()).detail : answer.statusText);
      const html = await answer.text();
      place(html, { ...options, over, wanted: (part) => turns[part === "tiles" ? "drawing" : part] === mine || (writes && !(part === "panel" && answer.redirected)) });
      return answer;
    } catch (error) {
      tell(`The page could not be brought up to date: ${error.message || "no answer"}`, "Try again", () => (writes ? location.reload() : fetchParts(url, parts, options)));
      return null;
    } finally {
      busy -= 1;
      document.body.classList.toggle("busy", busy > 0);
    }
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

  // What is wider than its place can be moved by keyboard too
  let reaching = 0;
  function reachSoon() {
    clearTimeout(reaching);
    reaching = setTimeout(reachWide, REACH_AFTER);
  }

  function reachWide() {
    let count = 0;
    for (const box of document.querySelectorAll(".wide, pre, #told ul")) {
      if (box.scrollWidth <= box.clientWidth && box.scrollHeight <= box.clientHeight) { box.removeAttribute("tabindex"); box.removeAttribute("role"); continue; }
      const heading = box.closest("section, details").querySelector("h2, h3");
      box.tabIndex = 0;
      if (box.tagName === "UL") continue;
      box.setAttribute("role", "region");
      box.setAttribute("aria-label", `${heading ? heading.textContent : "Table"}, wide part ${(count += 1)}`);
    }
  }

  function slowly(keepEditor, more = "") {
    fetchParts(here(), `${SLOW}${more}`, { keepEditor });
  }

  const here = () => `${location.pathname}${location.search}`;
  const dirty = () => text() && text().value !== saved;

  function tell(words, button, act) {
    const box = $("changed");
    box.replaceChildren(document.createTextNode(words));
    if (button) {
      const made = document.createElement("button");
      made.type = "button";
      made.className = "button";
      made.textContent = button;
      made.addEventListener("click", () => { box.hidden = true; act(); });
      box.append(" ", made);
    }
    box.hidden = false;
  }

  function focusOn(id) {
    const heading = $(id);
    if (!heading) return;
    heading.focus({ preventScroll: true });
    const box = heading.getBoundingClientRect();
    if (box.top < 0 || box.bottom > innerHeight) heading.scrollIntoView({ block: "start" });
    const aside = heading.closest("aside");
    if (aside) aside.scrollTop += box.top - aside.getBoundingClientRect().top - 8;
  }

  // Links and forms

  const TABS = { view: "drawing", file: "editor", variant: ALL };

  function partsFor(url, link) {
    if (link.dataset.leave || link.dataset.again) return ALL;
    if (link.dataset.only) return TABS[link.dataset.only];
    if (link.dataset.panel) return link.dataset.panel;
    const tried = [url.searchParams, new URLSearchParams(location.search)].some((said) => said.has("part") || said.has("changes"));
    return tried || document.querySelector(".drawing.would") ? "drawing,panel" : "panel";
  }

  // A tab changes one thing of the address; another link says all but the view, the variant and the file
  function addressOf(url, link) {
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

  function go(url) {
    if (new URL(url, location.href).href !== location.href) history.pushState(null, "", url);
    shown = here();
  }

  const mayLeave = () => !dirty() || confirm("The text is not saved. Leave it?");

  async function follow(link, url) {
    const parts = partsFor(url, link);
    if (parts === "editor" && !mayLeave()) return;
    const mine = ++clicks;
    if (!$("panel").contains(link)) opener = { at: link.getAttribute("href"), element: link };
    const leaving = link.dataset.leave === "1";
    const over = leaving && $("panel").querySelector("textarea[name=text]").value;
    const keepEditor = !leaving && parts !== "editor" && dirty();
    go(url);
    const answer = await fetchParts(url, parts, { keepEditor, ...(leaving && dirty() ? { over } : {}) });
    if (!answer || mine !== clicks) return;
    if (parts.includes("panel") && link.dataset.close === "1") return back();
    if (parts === "editor") focusOn("text");
    else if (link.dataset.panel) focusOn(`${parts}-title`);
    else if (parts.includes("panel") && !link.dataset.only) focusOn("panel-title");
    else {
      const tab = document.querySelector(`[aria-current][data-only="${link.dataset.only}"]`);
      if (tab) tab.focus();
    }
  }

  function back() {
    const found = opener && (opener.element.isConnected ? opener.element : document.querySelector(`a[href="${CSS.escape(opener.at)}"]`));
    (found || $("main")).focus();
  }

  document.addEventListener("click", (event) => {
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
    const url = new URL(href, location.href);
    if (href.startsWith("#") || url.origin !== location.origin || url.pathname !== "/" || !$("panel")) return;
    event.preventDefault();
    follow(link, addressOf(url, link));
  });

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

  document.addEventListener("submit", async (event) => {
    const form = event.target;
    if (!form.dataset.parts) return;
    event.preventDefault();
    const button = event.submitter;
    const fields = new URLSearchParams(new FormData(form, button));
    if (form.method === "get") {
      const url = new URL(form.action, location.href);
      url.search = fields;
      return follow(form, addressOf(url, form));
    }
    const action = (button && button.getAttribute("formaction")) || form.getAttribute("action");
    const now = new URLSearchParams(location.search);
    for (const name of form.classList.contains("history") ? ["view", "variant", "file", "at"] : ["view", "variant"]) fields.set(name, now.get(name) || "");
    send(action, fields, form.id === "text-form");
  });

  async function send(action, fields, ownText) {
    const seeing = action === "/page/text" && fields.get("do") === "see";
    const fromConflict = action === "/page/text" && !ownText;
    const keepEditor = seeing || (!ownText && !fromConflict && dirty());
    const options = { method: "POST", body: fields, seeing, keepEditor, carry: ownText };
    const mine = ++clicks;
    if (fromConflict && dirty()) options.over = fields.get("text").replace(/\r\n/g, "\n");
    const would = action === "/page/accept" && document.querySelector(".drawing.would");
    const answer = await fetchParts(action, seeing ? "drawing,panel" : would ? QUICK.replace("drawing,", "") : QUICK, options);
    if (!answer) return;
    if (would && answer.redirected) { // it is drawn already
      would.classList.remove("would");
      would.previousElementSibling.remove();
    }
    if (mine !== clicks) {
      if (answer.redirected) fetchParts(here(), "drawing,panel");
    } else if (answer.redirected) {
      go(answer.url);
      markLookedAt();
      focusOn("notice");
    } else {
      focusOn(seeing || document.querySelector("#panel .alert") ? "panel-title" : "notice");
    }
    if (!seeing) slowly(true, would ? ",drawing" : "");
  }

  // Back and forward: whatever differs from what is shown is fetched
  addEventListener("popstate", () => {
    if (here() === shown) return; // a place within the page
    clicks += 1;
    const now = new URL(location.href);
    const { build, variant } = $("head").dataset;
    const file = document.querySelector("#text-form [name=file]").value;
    const before = new URL(shown, location.origin).searchParams;
    const differs = (...names) => names.some((name) => before.get(name) !== now.searchParams.get(name));
    const otherFile = (now.searchParams.get("file") || build) !== file;
    const stays = otherFile && !mayLeave();
    if (stays) {
      now.searchParams.set("file", file);
      history.replaceState(null, "", now);
    }
    shown = here();
    const parts = ["drawing,panel"];
    if (otherFile && !stays) parts.push("editor");
    if (differs("aim", "by", "cured")) parts.push("purchase");
    if (differs("plots")) parts.push("pedal");
    fetchParts(here(), (now.searchParams.get("variant") || "") !== variant ? ALL : parts.join(","), { keepEditor: stays || (!otherFile && dirty()) });
  });

  // The drawing

  let scale = 1;
  let fit = false;

  function startDrawing() {
    const zoom = document.querySelector(".zoom");
    if (zoom) zoom.hidden = false;
    const svg = document.querySelector(".drawing svg");
    if (!svg) return;
    svg.dataset.wide = svg.getAttribute("width");
    svg.dataset.high = svg.getAttribute("height");
    showZoom();
  }

  function showZoom() {
    const box = document.querySelector(".drawing");
    const svg = box && box.querySelector("svg");
    if (!svg) return;
    box.classList.toggle("fit", fit);
    svg.setAttribute("width", svg.dataset.wide * scale);
    svg.setAttribute("height", svg.dataset.high * scale);
  }

  function zoomBy(how) {
    const box = document.querySelector(".drawing");
    const svg = box && box.querySelector("svg");
    if (!svg) return;
    if (how !== "fit" && fit) scale = svg.getBoundingClientRect().width / svg.dataset.wide;
    fit = how === "fit";
    if (!fit) scale = Math.min(6, Math.max(0.15, scale * (how === "in" ? 1.25 : 0.8)));
    const middle = [(box.scrollLeft + box.clientWidth / 2) / box.scrollWidth, (box.scrollTop + box.clientHeight / 2) / box.scrollHeight];
    showZoom();
    box.scrollTo(middle[0] * box.scrollWidth - box.clientWidth / 2, middle[1] * box.scrollHeight - box.clientHeight / 2);
  }

  function keepZoom(old, part) {
    const [before, after] = [old, part].map((each) => each.querySelector(".drawing"));
    if (!before || !after) return;
    const [left, top] = [before.scrollLeft, before.scrollTop];
    requestAnimationFrame(() => after.scrollTo(left, top));
  }

  function markLookedAt() {
    const at = new URLSearchParams(location.search).get("at") || "";
    for (const link of document.querySelectorAll(".drawing a")) {
      const own = link.dataset.at || link.dataset.tag || link.dataset.name;
      link.classList.toggle("at", own === at);
    }
    for (const mark of document.querySelectorAll(".drawing [data-finding]")) mark.classList.toggle("at", at === mark.dataset.name);
    showLookedAt();
  }

  function showLookedAt() {
    const box = document.querySelector(".drawing");
    const mark = box && box.querySelector(".at");
    if (!mark || box.contains(document.activeElement)) return;
    const [place, frame] = [mark.getBoundingClientRect(), box.getBoundingClientRect()];
    if (place.left < frame.left || place.right > frame.right) box.scrollLeft += (place.left + place.right - frame.left - frame.right) / 2;
    if (place.top < frame.top || place.bottom > frame.bottom) box.scrollTop += (place.top + place.bottom - frame.top - frame.bottom) / 2;
  }

  // The file as text

  function typed(editor) {
    const area = editor.querySelector("textarea");
    return area && { file: editor.querySelector("[name=file]").value, top: area.scrollTop, left: area.scrollLeft, from: area.selectionStart, to: area.selectionEnd, focused: document.activeElement === area };
  }

  function startEditor(typing) {
    const area = text();
    if (!area) return;
    if (!area.dataset.typed) saved = area.value;
    if (typing && typing.text !== null) { area.value = typing.text; lookSoon(); }
    if (typing && typing.file === document.querySelector("#text-form [name=file]").value) {
      area.setSelectionRange(typing.from, typing.to);
      if (typing.focused) area.focus({ preventScroll: true });
      area.scrollTo(typing.left, typing.top);
    }
    area.addEventListener("input", () => { numberLines(); noteDirty(); lookSoon(); });
    area.addEventListener("scroll", alongside, { passive: true });
    numberLines();
    showMarks(JSON.parse($("marks").textContent));
    noteDirty();
  }

  function noteDirty() {
    $("dirty").hidden = !dirty();
  }

  function numberLines() {
    const gutter = document.querySelector(".gutter");
    const many = text().value.split("\n").length;
    while (gutter.children.length > many) gutter.lastChild.remove();
    while (gutter.children.length < many) {
      const row = document.createElement("div");
      row.textContent = gutter.children.length + 1;
      gutter.append(row);
    }
    alongside();
  }

  function alongside() {
    const top = text().scrollTop;
    document.querySelector(".gutter").scrollTop = top;
    const place = placeOf();
    for (const band of document.querySelector(".bands").children) band.style.top = `${place(band.dataset.line) - top}px`;
  }

  // Where a line is: all rows are as high as the first
  function placeOf() {
    const first = document.querySelector(".gutter").firstElementChild;
    const [top, high] = [first.offsetTop, first.getBoundingClientRect().height];
    return (line) => top + (line - 1) * high;
  }

  const SIGNS = { error: "✕", warning: "△", note: "○" };

  function showMarks(marks) {
    const gutter = document.querySelector(".gutter");
    const bands = document.querySelector(".bands");
    for (const row of gutter.children) {
      row.className = "";
      row.textContent = row.textContent.replace(/\D/g, "");
    }
    bands.replaceChildren();
    for (const mark of marks) {
      const row = gutter.children[mark.line - 1];
      const level = mark.level || "error";
      if (!row || row.className === "error") continue;
      row.className = level;
      row.textContent = `${SIGNS[level]} ${row.textContent.replace(/\D/g, "")}`;
      const band = document.createElement("div");
      band.className = level;
      band.dataset.line = mark.line;
      bands.append(band);
    }
    alongside();
  }

  let waiting = 0;
  let looks = 0;

  function lookSoon() {
    clearTimeout(waiting);
    waiting = setTimeout(look, LOOK_AFTER);
  }

  async function look() {
    const mine = ++looks;
    const fields = new URLSearchParams(new FormData($("text-form")));
    try {
      const answer = await fetch("/page/look", { method: "POST", body: fields, credentials: "same-origin" });
      const told = await answer.json();
      if (mine !== looks || !text()) return;
      if (!answer.ok) throw new Error(told.detail);
      showTold(told, fields.get("file"));
    } catch (error) {
      if (mine === looks) $("told").textContent = `Not looked at: ${error.message || "no answer"}`;
    }
  }

  function showTold(told, file) {
    const own = told.problems.filter((each) => each.file === file);
    const marks = [...own, ...told.marks];
    text().setAttribute("aria-invalid", String(told.problems.length > 0));
    showMarks(marks);
    const list = document.createElement("ul");
    list.className = "plain";
    for (const each of told.problems) {
      const item = document.createElement("li");
      item.className = "finding error";
      const where = `line ${each.line}, column ${each.column}`;
      if (each.file === file) {
        const link = document.createElement("a");
        link.className = "line";
        link.href = "#editor";
        link.dataset.line = each.line;
        link.dataset.column = each.column;
        link.textContent = where;
        item.append(link, `: ${each.message}`);
      } else item.append(`${each.file}, ${where}: ${each.message}`);
      list.append(item);
    }
    const head = document.createElement("p");
    head.textContent = told.problems.length ? "It cannot be read:" : told.headline;
    $("told").replaceChildren(head, list);
  }

  function goTo(line, column) {
    const area = text();
    const lines = area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0) + Math.max(0, column - 1);
    const end = start + Math.max(1, (lines[line - 1] || "").length - Math.max(0, column - 1));
    $("editor").scrollIntoView({ block: "nearest" });
    area.focus();
    area.setSelectionRange(start, Math.min(end, area.value.length));
    area.scrollTop = placeOf()(line) - area.clientHeight / 3;
    area.scrollLeft = 0;
  }

  // Keys

  document.addEventListener("keydown", (event) => {
    const inText = event.target === text();
    if (event.key === "Escape" && !inText) {
      const close = document.querySelector("#panel [data-close]");
      if (close) { event.preventDefault(); close.click(); }
    } else if (event.ctrlKey && inText && (event.key === "Enter" || event.key === "s")) {
      event.preventDefault();
      document.querySelector(`#text-form button[value=${event.key === "s" ? "save" : "see"}]`).click();
    } else if (event.altKey && !event.ctrlKey && (event.key === "z" || event.key === "y")) {
      const button = $(event.key === "z" ? "undo" : "redo");
      if (button && !button.disabled) { event.preventDefault(); button.click(); }
    }
  });

  addEventListener("beforeunload", (event) => { if (dirty()) event.preventDefault(); });

  // Changes made elsewhere

  async function state() {
    if (document.hidden || busy) return;
    const before = $("head").dataset.key;
    try {
      const answer = await fetch("/page/state", { credentials: "same-origin" });
      const box = $("changed");
      if (!answer.ok) return;
      const { key, gone } = await answer.json();
      if (gone && box.hidden) { tell(`The build cannot be read now: ${gone}. What is shown is as it was.`); box.dataset.gone = "1"; }
      if (!gone && box.dataset.gone) { box.hidden = true; delete box.dataset.gone; }
      if (gone || busy || before !== $("head").dataset.key || key === before) return;
    } catch { return; }
    if (!$("changed").hidden) return;
    const kept = dirty() ? " Your text is not saved; it stays as it is." : "";
    tell(`A file of this build was changed elsewhere.${kept}`, "Show it as it is now", async () => {
      await fetchParts(here(), QUICK, { keepEditor: dirty() });
      slowly(dirty());
    });
  }

  // The page that stands for a build that is not there: it gives way once the build is back

  function waitForBuild() {
    if (document.body.dataset.gone !== "shown") return;
    setInterval(async () => {
      const answer = await fetch("/page/state", { credentials: "same-origin" }).catch(() => null);
      if (!answer || !answer.ok || (await answer.json()).gone) return;
      if (location.pathname === "/") location.reload();
      else location.replace("/");
    }, STATE_EVERY);
  }

  shown = here();
  startDrawing();
  startEditor(null);
  markLookedAt();
  if (new URLSearchParams(location.search).get("at") && location.hash === "#panel") focusOn("panel-title");
  reachSoon();
  addEventListener("resize", reachSoon);
  document.addEventListener("toggle", reachSoon, true);
  addEventListener("beforeprint", () => { for (const each of document.querySelectorAll("#sheets details")) each.open = true; });
  $("print").hidden = false;
  $("print").addEventListener("click", () => print());
  setInterval(state, STATE_EVERY);
  addEventListener("focus", state);
})();
