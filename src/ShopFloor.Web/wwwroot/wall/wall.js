// The Wall's calls: each is in the page with the instants between which it holds; here they are shown by the server's clock, the most
// urgent first, with a sound for the three most urgent kinds until they are gone. Also keeps the screen awake.
(() => {
  const shown = 2;
  let offset = null;
  let audio = null;
  let lastSound = 0;
  const heard = new Set();

  async function askTheTime() {
    const asked = performance.now();
    try {
      const answer = await fetch("clock", { cache: "no-store", redirect: "error" });
      if (answer.ok) offset = Number(await answer.text()) - (asked + performance.now()) / 2;
    } catch {
      // The clock goes on from what is known; the frame says since when nothing was heard.
    }
  }

  const seen = (call) => (call.dataset.seen ? 1 : 0);

  function draw() {
    const strip = document.querySelector("wall-calls");
    if (!strip || offset === null) return;
    const now = performance.now() + offset;
    const active = [...strip.querySelectorAll(".call")]
      .filter((c) => Number(c.dataset.from) <= now && (!c.dataset.until || now < Number(c.dataset.until)))
      .filter((c) => !c.dataset.quietUntil || now >= Number(c.dataset.quietUntil))
      .sort((a, b) => seen(a) - seen(b) || a.dataset.priority - b.dataset.priority || a.dataset.from - b.dataset.from);
    for (const call of strip.querySelectorAll(".call")) {
      const at = active.indexOf(call);
      call.hidden = at < 0 || at >= shown;
      call.style.order = at;
    }
    const more = strip.querySelector(".call-more");
    more.hidden = active.length <= shown;
    if (!more.hidden) more.textContent = strip.dataset.more.replace("{0}", active.length - shown);
    strip.dataset.active = active.length;
    ring(active.filter((c) => c.dataset.priority <= 3 && !seen(c)));
  }

  // Three high tones for what is over, two lower ones for what ends soon or will find nobody there; again every half minute while it lasts.
  function ring(urgent) {
    const keys = urgent.map((c) => c.dataset.key);
    for (const key of heard) if (!keys.includes(key)) heard.delete(key);
    const fresh = keys.some((k) => !heard.has(k));
    if (urgent.length === 0 || (!fresh && performance.now() - lastSound < 30_000)) return;
    for (const key of keys) heard.add(key);
    lastSound = performance.now();
    if (audio?.state !== "running" || localStorage.getItem("wall-sound") === "off") return;
    const over = urgent[0].dataset.priority === "1";
    for (let i = 0; i < (over ? 3 : 2); i++) tone(i * 0.35, over ? 1040 : 660);
  }

  function tone(at, pitch) {
    const source = audio.createOscillator();
    const gain = audio.createGain();
    source.frequency.value = pitch;
    gain.gain.value = 0.3;
    source.connect(gain).connect(audio.destination);
    source.start(audio.currentTime + at);
    source.stop(audio.currentTime + at + 0.22);
  }

  function nameButton() {
    const button = document.querySelector("[data-wall-sound]");
    if (!button) return;
    const off = localStorage.getItem("wall-sound") === "off";
    const words = off ? button.dataset.off : audio?.state === "running" ? button.dataset.on : button.dataset.test;
    if (button.textContent !== words) button.textContent = words;
    button.setAttribute("aria-pressed", String(!off));
  }

  // The first touch lets the browser make sound and tries it; each further one turns it off or on.
  document.addEventListener("click", async (event) => {
    if (!event.target.closest?.("[data-wall-sound]")) return;
    const first = audio === null;
    audio ??= new AudioContext();
    await audio.resume();
    const on = first || localStorage.getItem("wall-sound") === "off";
    localStorage.setItem("wall-sound", on ? "on" : "off");
    if (on) tone(0, 660);
    nameButton();
  });

  async function stayAwake() {
    if (document.querySelector("wall-calls") && document.visibilityState === "visible")
      await navigator.wakeLock?.request("screen").catch(() => {});
  }

  customElements.define(
    "wall-calls",
    class extends HTMLElement {
      connectedCallback() {
        askTheTime().then(draw);
        stayAwake();
      }
    },
  );
  // What has no room is counted instead of cut, and what has room is shown: how much that is only the browser knows. A list fits itself anew when
  // its rows change and when the room does. Rows are hidden and shown within one frame, so nothing is seen of it.
  const sure = 3;

  class FittedList extends HTMLElement {
    connectedCallback() {
      this.sizes = new ResizeObserver(() => this.fitQuietly());
      this.news = new MutationObserver(() => this.fitQuietly());
      this.sizes.observe(this.closest(".panel"));
      this.sizes.observe(this.closest(".wall-column"));
      this.watch();
    }
    disconnectedCallback() {
      this.sizes.disconnect();
      this.news.disconnect();
    }
    fitQuietly() {
      this.news.disconnect();
      this.fit();
      this.watch();
    }
  }

  // Running times and what is now and next share a column: three times come first, then the rows, then further times. Where that leaves fewer
  // than three rows, times give way down to one: whoever looks up must find what to do.
  customElements.define(
    "wall-timers",
    class extends FittedList {
      watch() {
        this.news.observe(this, { childList: true, attributeFilter: ["data-further"] });
      }
      fit() {
        this.closest(".wall-column").querySelector("wall-rows")?.fitQuietly();
      }
      show(count) {
        const rows = [...this.querySelectorAll(".timer-row")];
        rows.forEach((row, at) => (row.hidden = at >= count));
        const rest = Math.max(0, rows.length - count) + Number(this.dataset.further);
        const words = this.querySelector("[data-rest]");
        words.hidden = rest === 0;
        words.textContent = rest === 0 ? "" : this.dataset.more.replace("{0}", rest);
        return rows.length;
      }
    },
  );
  customElements.define(
    "wall-rows",
    class extends FittedList {
      watch() {
        this.news.observe(this, { childList: true, characterData: true, subtree: true, attributeFilter: ["data-further"] });
      }
      fit() {
        const panel = this.closest(".panel");
        const fits = () => panel.scrollHeight <= panel.clientHeight + 1;
        const timers = this.closest(".wall-column").querySelector("wall-timers");
        const rows = [...this.querySelectorAll(".now-row")];
        const more = this.querySelector(".now-more");
        const fitRows = () => {
          for (const row of rows) row.hidden = false;
          for (let shown = rows.length; ; shown--) {
            const rest = rows.length - shown + Number(this.dataset.further);
            more.hidden = rest === 0;
            more.textContent = this.dataset.more.replace("{0}", rest);
            if (shown === 0 || fits()) return shown;
            rows[shown - 1].hidden = true;
          }
        };
        let times = 0;
        let first = sure;
        for (; ; first--) {
          times = timers?.show(first) ?? 0;
          if (fitRows() >= Math.min(sure, rows.length) || first === 1) break;
        }
        for (let shown = first + 1; more.hidden && shown <= times; shown++) {
          timers.show(shown);
          if (fits()) continue;
          timers.show(shown - 1);
          break;
        }
      }
    },
  );
  // Promises stand below the drawings, which give room as long as they can be read: five letters high.
  customElements.define(
    "wall-promises",
    class extends FittedList {
      watch() {
        this.news.observe(this, { childList: true, attributeFilter: ["data-of"] });
      }
      fit() {
        const column = this.closest(".wall-column");
        const least = 5 * parseFloat(getComputedStyle(column).fontSize);
        const fits = () =>
          column.scrollHeight <= column.clientHeight + 1 &&
          [...column.querySelectorAll(".wall-layouts")].every((drawing) => drawing.clientHeight >= least);
        const rows = [...this.querySelectorAll(".promise")];
        let shown = Math.min(sure, rows.length);
        rows.forEach((row, at) => (row.hidden = at >= shown));
        // Words that take two lines may leave room for fewer: none is cut.
        for (; shown > 1 && column.scrollHeight > column.clientHeight + 1; shown--) rows[shown - 1].hidden = true;
        for (; shown < rows.length; shown++) {
          rows[shown].hidden = false;
          if (fits()) continue;
          rows[shown].hidden = true;
          break;
        }
        const panel = this.closest(".panel");
        const first = panel.querySelector("[data-first]");
        first.hidden = shown >= Number(this.dataset.of);
        first.textContent = first.dataset.first.replace("{0}", shown).replace("{1}", this.dataset.of);
        panel.querySelector("[data-all]").hidden = !first.hidden;
      }
    },
  );
  // Nobody touches a wall, so it does not wait for the framework's ever longer pauses: once the server answers again the page has a
  // moment to take up its circuit, and is loaded anew when it has not.
  let away = false;
  async function comeBack() {
    if (away || !document.querySelector("wall-calls")) return;
    away = true;
    const lost = () => document.getElementById("components-reconnect-modal")?.open;
    while (lost()) {
      await new Promise((go) => setTimeout(go, 700));
      try {
        if (!(await fetch("health/live", { cache: "no-store", signal: AbortSignal.timeout(2000) })).ok) continue;
      } catch {
        continue; // Still away.
      }
      await new Promise((go) => setTimeout(go, 1200));
      if (!lost()) break;
      document.getElementById("components-reconnect-modal").dataset.leaving = "yes";
      location.reload();
    }
    away = false;
  }
  document
    .getElementById("components-reconnect-modal")
    ?.addEventListener("components-reconnect-state-changed", (event) => event.detail.state === "show" && setTimeout(comeBack, 100));

  let ticks = 0;
  setInterval(() => {
    draw();
    nameButton();
    if (++ticks % 120 === 0 && document.querySelector("wall-calls")) askTheTime();
  }, 250);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") stayAwake();
  });
})();
