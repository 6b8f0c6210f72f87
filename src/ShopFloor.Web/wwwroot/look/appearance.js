// Light, dark or as the device says. The server reads the cookie and sends the right colours with the page, so nothing flashes;
// this script only changes them on a page that is already open.
(() => {
  const root = document.documentElement;
  const media = { light: "not all", dark: "all", system: "(prefers-color-scheme: dark)" };

  const mark = () => {
    for (const button of document.querySelectorAll("[data-appearance-choice]"))
      button.setAttribute("aria-pressed", String(button.dataset.appearanceChoice === root.dataset.appearance));
  };

  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-appearance-choice]");
    if (!button) return;
    const choice = button.dataset.appearanceChoice;
    root.dataset.appearance = choice;
    document.getElementById("dark-colours").media = media[choice];
    document.cookie = `appearance=${choice}; path=/; max-age=31536000; samesite=lax`;
    mark();
  });

  customElements.define(
    "appearance-switch",
    class extends HTMLElement {
      connectedCallback() {
        requestAnimationFrame(mark);
      }
    },
  );
})();
