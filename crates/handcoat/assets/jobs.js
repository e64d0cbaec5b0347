// Jobs go on by themselves: while one runs or waits its list is asked for again and put in the place of the old one. Without scripts the page
// is looked at again by its link.
"use strict";
(() => {
  const ASK_AGAIN_MS = 1500;

  async function ask() {
    const place = document.getElementById("jobs");
    // A button somebody is on is not taken away under the finger.
    if (!place || !("going" in place.dataset) || place.contains(document.activeElement)) return again();
    try {
      const answer = await fetch(location.href, { headers: { "X-Handcoat-Part": "live" } });
      if (answer.ok) {
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        const fresh = page.getElementById("jobs");
        if (fresh && !("going" in fresh.dataset)) return location.reload();
        if (fresh) place.replaceWith(document.importNode(fresh, true));
      }
    } catch {
      // The program is away for a moment; it is asked again.
    }
    again();
  }

  function again() { setTimeout(ask, ASK_AGAIN_MS); }

  again();
})();
