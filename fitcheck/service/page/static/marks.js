// Beside the text and behind it: the numbers of its lines, and what stands at them.

import { text } from "./base.js";

export function numberLines() {
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

export function alongside() {
  const top = text().scrollTop;
  document.querySelector(".gutter").scrollTop = top;
  const place = placeOf();
  for (const band of document.querySelector(".bands").children) band.style.top = `${place(band.dataset.line) - top}px`;
}

// Where a line is: all rows are as high as the first
export function placeOf() {
  const first = document.querySelector(".gutter").firstElementChild;
  const [top, high] = [first.offsetTop, first.getBoundingClientRect().height];
  return (line) => top + (line - 1) * high;
}

const SIGNS = { error: "✕", warning: "△", note: "○" };

export function showMarks(marks) {
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
