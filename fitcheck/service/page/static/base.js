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
  document.documentElement.style.setProperty("--bar", `${box.offsetHeight}px`);
}

// What went wrong with a request, in words; where there is no answer a browser's own are of its workings
export const why = (error, answer) => (answer ? error.message || "no answer" : "the server does not answer");

let acts = 0; // what the reader did with pointer, wheel or keys so far
for (const act of ["pointerdown", "wheel", "touchmove", "keydown"]) addEventListener(act, () => { acts += 1; }, { capture: true, passive: true });

export const actsSoFar = () => acts;

// What is far away is as high as it is only once it comes into view, and then it moves what stands below it. Whoever
// acts meanwhile is somewhere already: nothing may move under the pointer between down and up
export function bringUp(box) {
  let left = SETTLE_FRAMES;
  const since = acts;
  const again = () => {
    if (acts !== since || !box.isConnected) return;
    box.scrollIntoView({ block: "start" });
    if ((left -= 1)) requestAnimationFrame(again);
  };
  again();
}

// On a wide screen the panel scrolls by itself, and is in view; the page is brought up only if nobody acted `since`
export function focusOn(id, since = acts) {
  const heading = $(id);
  if (!heading) return;
  heading.focus({ preventScroll: true });
  const aside = heading.closest("aside");
  if (aside) aside.scrollTop += heading.getBoundingClientRect().top - aside.getBoundingClientRect().top - 8;
  const box = heading.getBoundingClientRect();
  const covered = parseFloat(getComputedStyle(document.documentElement).scrollPaddingTop) || 0;
  if (since === acts && (box.top < covered - 8 || box.bottom > innerHeight)) bringUp(heading);
}
