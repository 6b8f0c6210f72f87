// A page can be read and typed into before its circuit listens; when it begins, the circuit draws the page anew, with new fields. What was
// typed, and where, comes along, as if it had been typed again: whoever scans or writes at once loses no letter.
(() => {
  if (!document.querySelector("[data-interactive=no]")) return;
  const typed = new Map();
  let at = null;
  const isTick = (field) => field.type === "checkbox" || field.type === "radio";
  const isField = (field) => field.id && field.matches?.("input, textarea, select") && field.type !== "file";
  const keep = ({ target }) => isField(target) && typed.set(target.id, isTick(target) ? target.checked : target.value);
  const look = ({ target }) => (at = isField(target) ? target.id : null);
  document.addEventListener("input", keep, true);
  document.addEventListener("focusin", look, true);

  function carry() {
    for (const [id, value] of typed) {
      const field = document.getElementById(id);
      if (!field || (isTick(field) ? field.checked : field.value) === value) continue;
      if (isTick(field)) field.checked = value;
      else field.value = value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
      field.dispatchEvent(new Event("change", { bubbles: true }));
    }
    if (at && document.activeElement === document.body) document.getElementById(at)?.focus({ preventScroll: true });
  }

  const drawn = new MutationObserver(() => {
    if (!document.querySelector("[data-interactive=yes]")) return;
    drawn.disconnect();
    document.removeEventListener("input", keep, true);
    document.removeEventListener("focusin", look, true);
    carry();
  });
  drawn.observe(document.documentElement, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-interactive"] });
})();
