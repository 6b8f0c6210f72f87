// A page can be read and typed into before its circuit listens; when it begins, the circuit draws the page anew, with new fields, some of
// them only once it has read what they show. What was typed, and where, comes along, as if it had been typed again: whoever scans or writes
// at once loses no letter. What was sent before is done with.
(() => {
  if (!document.querySelector("[data-interactive=no]")) return;
  const longest = 10_000;
  const typed = new Map(); // By id: the field that was typed into, and what.
  let at = null; // The field that had the keyboard.
  let listens = false;
  const isTick = (field) => field.type === "checkbox" || field.type === "radio";
  const isField = (field) => field.id && field.matches?.("input, textarea, select") && field.type !== "file";
  const valueOf = (field) => (isTick(field) ? field.checked : field.value);

  const keep = ({ target, isTrusted }) => {
    if (!isTrusted || !isField(target)) return;
    if (listens) typed.delete(target.id);
    else typed.set(target.id, { field: target, value: valueOf(target) });
  };
  const look = ({ target }) => {
    if (!listens) at = isField(target) ? target : null;
    else if (target.id !== at?.id) at = null;
  };
  const sent = ({ target }) => [...target.elements].forEach((field) => typed.delete(field.id));

  function carry() {
    for (const [id, was] of typed) {
      const field = document.getElementById(id);
      if (!field || field === was.field) continue;
      typed.delete(id);
      if (valueOf(field) === was.value) continue;
      if (isTick(field)) field.checked = was.value;
      else field.value = was.value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
      field.dispatchEvent(new Event("change", { bubbles: true }));
    }
    const field = at && document.getElementById(at.id);
    if (!field || field === at) return;
    at = null;
    if (!document.activeElement?.matches("input, textarea, select")) field.focus({ preventScroll: true });
  }

  function end() {
    drawn.disconnect();
    document.removeEventListener("input", keep, true);
    document.removeEventListener("focusin", look, true);
    document.removeEventListener("submit", sent, true);
  }

  const drawn = new MutationObserver(() => {
    if (!listens && document.querySelector("[data-interactive=yes]")) {
      listens = true;
      setTimeout(end, longest);
    }
    if (!listens) return;
    carry();
    if (typed.size === 0 && !at) end();
  });
  document.addEventListener("input", keep, true);
  document.addEventListener("focusin", look, true);
  document.addEventListener("submit", sent, true);
  drawn.observe(document.documentElement, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-interactive"] });
})();
