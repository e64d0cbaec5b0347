// The camera brings the code along behind the #, which no server and no log sees. It goes into the field and out of the address.
"use strict";
(() => {
  const code = decodeURIComponent(location.hash.slice(1));
  const field = document.querySelector("input[name=code]");
  if (!code || !field || field.value) return;
  history.replaceState(null, "", location.pathname);
  field.value = code;
  field.form.requestSubmit();
})();
