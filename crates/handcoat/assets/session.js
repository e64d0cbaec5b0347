// Timers count on the screen. What is left stands in the page as words already; here it goes on, by the clock of the browser that only
// runs forward. After a sleep, and now and then, the page is asked again: the book knows better than a browser that slept.
"use strict";
(() => {
  const ASK_AGAIN_MS = 60000;
  let begun = performance.now();

  function words(ms) {
    const seconds = ms > 0 ? Math.ceil(ms / 1000) : Math.floor(-ms / 1000);
    const two = (n) => String(n).padStart(2, "0");
    const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
    return (hours > 0 ? hours + ":" + two(minutes) : minutes) + ":" + two(seconds % 60);
  }

  function show() {
    const ran = performance.now() - begun;
    for (const place of document.querySelectorAll("[data-left]")) {
      const left = Number(place.dataset.left) - ran;
      const over = left <= 0;
      place.textContent = words(left) + (over ? " over" : "bare" in place.dataset ? "" : " left");
      place.closest(".timer")?.classList.toggle("over", over);
    }
  }

  async function ask() {
    try {
      const answer = await fetch(location.href, { headers: { "X-Handcoat-Part": "live" } });
      if (!answer.ok) return;
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      for (const place of document.querySelectorAll("[data-live-timers]")) {
        const fresh = page.getElementById(place.id);
        if (fresh) place.replaceChildren(...[...fresh.childNodes].map((node) => document.importNode(node, true)));
      }
      begun = performance.now();
      show();
    } catch {
      // The program is away for a moment; the count goes on.
    }
  }

  if (!document.querySelector("[data-live-timers]")) return;
  show();
  setInterval(show, 250);
  setInterval(ask, ASK_AGAIN_MS);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) ask(); });
  addEventListener("pageshow", (event) => { if (event.persisted) ask(); });
})();
