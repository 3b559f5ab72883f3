// What is wrong with the text, while it is written.

import { $, text, why } from "./base.js";
import { showMarks } from "./marks.js";

const LOOK_AFTER = 250;
let waiting = 0;
let looks = 0;

export function lookSoon() {
  clearTimeout(waiting);
  waiting = setTimeout(look, LOOK_AFTER);
}

async function look() {
  const mine = ++looks;
  const fields = new URLSearchParams(new FormData($("text-form")));
  let answer = null;
  try {
    answer = await fetch("/page/look", { method: "POST", body: fields, credentials: "same-origin" });
    const told = await answer.json();
    if (mine !== looks || !text()) return;
    if (!answer.ok) throw new Error(told.detail);
    showTold(told, fields.get("file"));
  } catch (error) {
    if (mine === looks) $("told").textContent = `Not looked at: ${why(error, answer)}`;
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

