// Saves while somebody types. The form works without it: its buttons send the whole page.
"use strict";
(() => {
  const form = document.getElementById("form");
  if (!form || form.dataset.sealed) return;
  const saved = document.getElementById("saved");
  let timer = 0, busy = false, again = false, loud = false;

  const fresh = (id, from) => {
    const here = document.getElementById(id), there = from.getElementById(id);
    if (here && there) here.replaceChildren(...there.childNodes);
  };

  async function send() {
    if (busy) { again = true; return; }
    busy = true; again = false;
    const tell = loud; loud = false;
    const body = new URLSearchParams(new FormData(form));
    body.set("go", "stay");
    try {
      const reply = await fetch(form.action, {
        method: "POST", body, credentials: "same-origin", redirect: "error",
        headers: { "X-Fill": "1" }, signal: AbortSignal.timeout(8000),
      });
      const page = new DOMParser().parseFromString(await reply.text(), "text/html");
      if (!page.getElementById("form")) throw new Error(String(reply.status));
      fresh("saved", page); fresh("so-far", page); fresh("steps", page);
      saved.classList.remove("lost");
      for (const was of form.querySelectorAll("[data-was]")) fresh(was.id, page);
      for (const said of form.querySelectorAll("[data-said]")) {
        const there = page.getElementById(said.id);
        const quiet = there && there.dataset.said === "refused" && !tell;
        if (there && !quiet) said.replaceChildren(...there.childNodes);
      }
    } catch (_) {
      saved.textContent = form.dataset.lost;
      saved.classList.add("lost");
      setTimeout(send, 2000);
    }
    busy = false;
    if (again) send();
  }

  form.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(send, 350); });
  form.addEventListener("change", () => { clearTimeout(timer); loud = true; timer = setTimeout(send, 50); });
  addEventListener("pagehide", () => {
    if (!timer) return;
    const body = new URLSearchParams(new FormData(form));
    body.set("go", "stay");
    fetch(form.action, { method: "POST", body, keepalive: true, credentials: "same-origin" });
  });
  for (const upload of document.querySelectorAll("form.upload")) {
    upload.addEventListener("submit", () => {
      const button = upload.querySelector("button");
      button.textContent = upload.dataset.busy;
    });
  }
})();
