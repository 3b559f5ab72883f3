// What is wider than its place can be moved by keyboard too.

const REACH_AFTER = 150;
let reaching = 0;

export function reachSoon() {
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

export function startWide() {
  reachSoon();
  addEventListener("resize", reachSoon);
  document.addEventListener("toggle", reachSoon, true);
}
