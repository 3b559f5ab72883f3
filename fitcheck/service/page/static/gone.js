// The page that stands for a build that is not there: it gives way once the build is back.

import { STATE_EVERY } from "./base.js";

async function look() {
  const answer = await fetch("/page/state", { credentials: "same-origin" }).catch(() => null);
  if (!answer || !answer.ok || (await answer.json()).gone) return;
  if (location.pathname === "/") location.reload();
  else location.replace("/");
}

if (document.body.dataset.gone === "shown") setInterval(look, STATE_EVERY);
