// What every part of the script uses: where things stand on the page, what is asked for, how the page tells something.

export const ALL = "head,notice,drawing,findings,unchecked,joints,bill,purchase,sheets,pedal,panel,editor";
export const QUICK = "head,notice,drawing,findings,panel,editor,quick";
export const SLOW = "findings,unchecked,joints,bill,purchase,sheets,pedal";
export const STATE_EVERY = 3000;
const SETTLE_FRAMES = 8;

export const $ = (id) => document.getElementById(id);
export const text = () => $("text");
export const here = () => `${location.pathname}${location.search}`;

export function tell(words, button, act) {
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

// What went wrong with a request, in words; where there is no answer a browser's own are of its workings
export const why = (error, answer) => (answer ? error.message || "no answer" : "the server does not answer");

// What is far away is as high as it is only once it comes into view, and then it moves what stands below it. Whoever
// presses a key or a button meanwhile is there already: nothing may move under the pointer between down and up
export function bringUp(box) {
  let left = SETTLE_FRAMES;
  const done = new AbortController();
  const stop = () => { left = 0; done.abort(); };
  for (const act of ["pointerdown", "keydown", "wheel"]) addEventListener(act, stop, { capture: true, passive: true, signal: done.signal });
  const again = () => {
    if (!left) return;
    if (box.isConnected) box.scrollIntoView({ block: "start" });
    left -= 1;
    if (left) requestAnimationFrame(again);
    else stop();
  };
  again();
}

// On a wide screen the panel scrolls by itself, and is always in view
export function focusOn(id) {
  const heading = $(id);
  if (!heading) return;
  heading.focus({ preventScroll: true });
  const aside = heading.closest("aside");
  if (aside) aside.scrollTop += heading.getBoundingClientRect().top - aside.getBoundingClientRect().top - 8;
  const box = heading.getBoundingClientRect();
  if (box.top < 0 || box.bottom > innerHeight) bringUp(heading);
}
