// A page whose circuit has ended by an error shows its last state for ever. The framework says so and leaves it there: here the page is
// opened again. The Wall, which nobody touches, by itself; the Bench by itself as long as nothing is begun on it; elsewhere by a touch.
(() => {
  const bar = document.getElementById("blazor-error-ui");
  if (!bar) return;
  const store = "reopened";
  const first = 3000;
  const longest = 5 * 60_000;
  const calm = 2 * 60_000;

  // A page that dies again at once is opened ever more seldom; one that lived for a while begins anew.
  function pauses() {
    try {
      return JSON.parse(sessionStorage.getItem(store) ?? "null") ?? { pause: first, at: 0 };
    } catch {
      return { pause: first, at: 0 };
    }
  }
  function nextPause() {
    const { pause, at } = pauses();
    return Date.now() - at - pause > calm ? first : pause;
  }

  // A panel, a question, a list that was unfolded or a field with something in it: what hands have begun is not taken from them.
  const isBegun = () =>
    document.querySelector(".bench main :is(.piece-card > section.sheet:not(.down), details[open])") !== null ||
    [...document.querySelectorAll(".bench main :is(input:not([type=hidden], [type=file]), textarea)")].some((field) =>
      field.type === "checkbox" || field.type === "radio" ? field.checked !== field.defaultChecked : field.value !== "",
    );

  async function open(pause) {
    // Begun meanwhile: from here on only a touch opens it.
    if (document.querySelector(".bench") !== null && isBegun()) {
      bar.toggleAttribute("data-opens", false);
      waits = false;
      return;
    }
    try {
      if (!(await fetch("health/live", { cache: "no-store" })).ok) throw new Error("not up");
    } catch {
      // Loaded anew without a server the browser has nothing to show.
      setTimeout(() => open(pause), first);
      return;
    }
    try {
      sessionStorage.setItem(store, JSON.stringify({ pause: Math.min(pause * 2, longest), at: Date.now() }));
    } catch {
      // No store: the pauses stay short.
    }
    const lost = document.getElementById("components-reconnect-modal");
    if (lost) lost.dataset.leaving = "yes";
    location.reload();
  }

  let waits = false;
  function shown() {
    if (waits || getComputedStyle(bar).display === "none") return;
    const byItself = document.querySelector(".wall") !== null || (document.querySelector(".bench") !== null && !isBegun());
    if (!byItself) return;
    waits = true;
    bar.toggleAttribute("data-opens", true);
    const pause = nextPause();
    setTimeout(() => open(pause), pause);
  }
  new MutationObserver(shown).observe(bar, { attributeFilter: ["style", "class"] });
})();
