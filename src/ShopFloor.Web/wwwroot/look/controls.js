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

  // The office's places fold away on a narrow screen.
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-unfold]");
    if (!button) return;
    const open = document.getElementById(button.dataset.unfold).classList.toggle("open");
    button.setAttribute("aria-expanded", String(open));
  });
})();
