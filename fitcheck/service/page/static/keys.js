// Keys, beside those that browsers have.

import { $, text } from "./base.js";

function pressed(event) {
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
}

export function startKeys() {
  document.addEventListener("keydown", pressed);
}
