// Small things the browser does better than a round trip.
(() => {
  // A line of the fault summary takes the person into the field, not only to it.
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[data-field]");
    const field = link && (document.getElementById(link.dataset.field) ?? document.getElementsByName(link.dataset.field)[0]);
    if (!field) return;
    event.preventDefault();
    event.stopPropagation();
    field.scrollIntoView({ block: "center" });
    field.focus({ preventScroll: true });
  }, true);

  // A page that was gone to begins at its heading. Whoever already types when the circuit of the first page begins stays in the field.
  globalThis.focusHeading = (first) => {
    if (first && document.activeElement?.matches("input, textarea, select, [contenteditable]")) return;
    const heading = document.querySelector("h1");
    if (!heading) return;
    if (!heading.hasAttribute("tabindex")) heading.tabIndex = -1;
    heading.focus();
  };

  // A press counts for the button it began on: leaving a field may take a fault away, and the page moves up under the hand.
  let press = null;
  document.addEventListener("pointerdown", (event) => {
    const button = event.button === 0 ? event.target.closest?.("button") : null;
    press = button && { button, x: event.clientX, y: event.clientY, top: button.getBoundingClientRect().top };
  }, true);
  document.addEventListener("pointerup", (event) => {
    const began = press;
    press = null;
    if (!began?.button.isConnected || began.button.contains(event.target)) return;
    const held = Math.hypot(event.clientX - began.x, event.clientY - began.y) < 8;
    if (held && began.button.getBoundingClientRect().top !== began.top) began.button.click();
  }, true);

  // What goes away while the keyboard is on it, such as a button with its own press or the field of a file that was sent, leaves the keyboard
  // where it stood, not at the top of the page. What takes its place may press something else, so the place itself is what is focused; where all
  // was drawn anew, the heading.
  let left = [];
  const goes = new MutationObserver(() => {
    if (left[0].isConnected) return;
    let place = left.find((one) => one.isConnected);
    rest();
    if (place?.tagName === "MAIN") place = place.querySelector("h1") ?? place;
    if (!place || document.activeElement !== document.body) return;
    if (!place.hasAttribute("tabindex")) place.tabIndex = -1;
    place.focus({ preventScroll: true });
  });
  const rest = () => goes.disconnect();
  document.addEventListener("focusin", (event) => {
    rest();
    if (!event.target.closest("main")) return;
    left = [event.target];
    while (left.at(-1).parentElement?.closest("main")) left.push(left.at(-1).parentElement);
    goes.observe(document.body, { childList: true, subtree: true });
  });

  // Undo comes up where the button of the step may just have been: a second touch of the same place does not take the step back.
  const moment = 1500;
  const button = (bar) => bar.querySelector("button");
  customElements.define(
    "undo-bar",
    class extends HTMLElement {
      connectedCallback() {
        this.dataset.fresh = "";
        // What is in it comes after it.
        queueMicrotask(() => button(this)?.setAttribute("aria-disabled", "true"));
        this.ready = setTimeout(() => {
          delete this.dataset.fresh;
          button(this)?.removeAttribute("aria-disabled");
        }, moment);
      }
      disconnectedCallback() {
        clearTimeout(this.ready);
      }
    },
  );
  document.addEventListener("click", (event) => {
    if (!event.target.closest?.("undo-bar[data-fresh]")) return;
    event.preventDefault();
    event.stopPropagation();
  }, true);

  // The office's places fold away on a narrow screen.
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-unfold]");
    if (!button) return;
    const open = document.getElementById(button.dataset.unfold).classList.toggle("open");
    button.setAttribute("aria-expanded", String(open));
  });
})();
