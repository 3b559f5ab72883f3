// The drawing: larger and smaller, where it was left, and what of it is looked at.

let scale = 1;
let fit = false;

export function startDrawing() {
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

export function zoomBy(how) {
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

export function keepZoom(old, part) {
  const [before, after] = [old, part].map((each) => each.querySelector(".drawing"));
  if (!before || !after) return;
  const [left, top] = [before.scrollLeft, before.scrollTop];
  requestAnimationFrame(() => after.scrollTo(left, top));
}

export function markLookedAt() {
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
