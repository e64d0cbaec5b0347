// A second tap of a wet glove lands on the next screen. For a moment after a step comes up its answers are not taken; the buttons are
// outlined until they are. The keys of the screen are links beside them and never wait.
"use strict";
(() => {
  const PAUSE_MS = 600;
  const bench = document.querySelector(".bench[data-fresh]");
  if (!bench) return;

  function hold(event) {
    if (event.type === "click" && !event.target.closest(".main-two, .ways-out, .reading button, .sides, .sure")) return;
    event.preventDefault();
    event.stopPropagation();
  }

  const kinds = ["click", "submit"];
  bench.classList.add("fresh");
  for (const kind of kinds) bench.addEventListener(kind, hold, true);
  setTimeout(() => {
    bench.classList.remove("fresh");
    for (const kind of kinds) bench.removeEventListener(kind, hold, true);
  }, PAUSE_MS);
})();
