// The file as text: its lines, what stands at them, what is not saved.

import { $, text } from "./base.js";
import { lookSoon } from "./look.js";
import { alongside, numberLines, placeOf, showMarks } from "./marks.js";

let saved = "";

export const dirty = () => text() && text().value !== saved;
export const mayLeave = () => !dirty() || confirm("The text is not saved. Leave it?");

export function typed(editor) {
  const area = editor.querySelector("textarea");
  return area && { file: editor.querySelector("[name=file]").value, top: area.scrollTop, left: area.scrollLeft, from: area.selectionStart, to: area.selectionEnd, focused: document.activeElement === area };
}

export function startEditor(typing) {
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

export function goTo(line, column) {
  const area = text();
  const lines = area.value.split("\n");
  const own = lines[line - 1] || "";
  const before = [...own].slice(0, Math.max(0, column - 1)).join("").length; // a column is a character, which may be two here
  const start = lines.slice(0, line - 1).reduce((sum, each) => sum + each.length + 1, 0) + before;
  const end = start + Math.max(1, own.length - before);
  $("editor").scrollIntoView({ block: "nearest" });
  area.focus();
  area.setSelectionRange(start, Math.min(end, area.value.length));
  area.scrollTop = placeOf()(line) - area.clientHeight / 3;
  area.scrollLeft = 0;
}

addEventListener("beforeunload", (event) => { if (dirty()) event.preventDefault(); });
