// Signing out clears what the program keeps in this browser. Taps of the Bench that still wait (bench/bench.js) are sent before; when they
// cannot go, the person is asked, and they stay on this device for whoever tapped them.
(() => {
  const store = "bench-outbox";
  const patience = 5000;
  const waiting = () => JSON.parse(localStorage.getItem(store) ?? "[]");
  const worker = document.body.dataset.worker ?? "";
  const own = () => waiting().filter((i) => i.tap.worker === worker).length;

  // Which of the form's buttons was pressed: here, or everywhere.
  let pressed = null;

  function leave(form) {
    form.elements.keep.value = waiting().length > 0 ? "true" : "";
    form.dataset.leaves = "yes";
    form.requestSubmit(pressed);
  }

  document.addEventListener("submit", async (event) => {
    const form = event.target.closest?.("form[data-sign-out]");
    if (!form || form.dataset.leaves || waiting().length === 0) return;
    event.preventDefault();
    pressed = event.submitter;
    if (form.hasAttribute("aria-busy")) return;
    form.setAttribute("aria-busy", "true");
    await globalThis.benchSend?.(patience);
    form.removeAttribute("aria-busy");
    if (own() === 0) return leave(form);
    const ask = form.querySelector("dialog");
    const words = ask.querySelector("[data-words]");
    words.textContent = words.dataset.words.replace("{0}", own());
    ask.showModal();
  });

  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-sign-out-stay], [data-sign-out-leave]");
    if (!button) return;
    button.closest("dialog").close();
    if (button.hasAttribute("data-sign-out-leave")) leave(button.closest("form"));
  });

  // The server left the store alone for the sake of the taps: all else goes, as it does otherwise.
  if (worker === "" && new URLSearchParams(location.search).has("left") && waiting().length > 0) {
    for (const key of Object.keys(localStorage)) if (key !== store) localStorage.removeItem(key);
    sessionStorage.clear();
  }
})();
