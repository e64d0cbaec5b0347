// The sheet follows the answers: the same address is asked for again, and the parts that follow are put in their places.
"use strict";
(() => {
  const form = document.querySelector("form[data-follow]");
  if (!form) return;
  const status = document.getElementById("status");
  let waiting = 0;
  let under_way = null;

  function address() {
    const query = new URLSearchParams();
    for (const [name, value] of new FormData(form)) {
      // An empty scale is an answer: it takes the studio's own back.
      if (value.trim() !== "" || name === "balance") query.append(name, value);
    }
    return location.pathname + "?" + query;
  }

  function put(page) {
    for (const place of document.querySelectorAll("[data-live]")) {
      const fresh = page.getElementById(place.id);
      if (fresh) place.replaceChildren(...[...fresh.childNodes].map((node) => document.importNode(node, true)));
    }
    for (const input of form.querySelectorAll("input[id]")) {
      const invalid = page.getElementById(input.id)?.getAttribute("aria-invalid");
      if (invalid) input.setAttribute("aria-invalid", invalid);
      else input.removeAttribute("aria-invalid");
    }
  }

  function silent() {
    const words = document.createElement("p");
    words.textContent = status.textContent = "The program does not answer. Is it still running?";
    document.getElementById("trouble").replaceChildren(words);
  }

  async function follow() {
    under_way?.abort();
    under_way = new AbortController();
    const wanted = address();
    try {
      const answer = await fetch(wanted, { headers: { "X-Handcoat-Part": "live" }, signal: under_way.signal });
      put(new DOMParser().parseFromString(await answer.text(), "text/html"));
      history.replaceState(null, "", wanted);
    } catch (error) {
      if (error.name !== "AbortError") silent();
    }
  }

  form.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(follow, 250);
  });
})();
