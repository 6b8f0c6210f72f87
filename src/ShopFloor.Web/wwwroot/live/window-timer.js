// A time that runs inside a window: a bar with the shortest and the longest time marked, and the time left in words.
// The server gives instants; the browser counts between them on its monotonic clock. No render of the server's per tick.
(() => {
  const timers = new Set();
  let offset = null; // server time minus performance.now(), in milliseconds
  const now = () => performance.now() + offset;

  async function askTheTime() {
    const asked = performance.now();
    try {
      const answer = await fetch("clock", { cache: "no-store", redirect: "error" });
      if (answer.ok) offset = Number(await answer.text()) - (asked + performance.now()) / 2;
    } catch {
      // The timers go on from what is known.
    }
  }

  const two = (n) => String(n).padStart(2, "0");
  function clockText(milliseconds) {
    const seconds = Math.max(0, Math.floor(milliseconds / 1000));
    const hours = Math.floor(seconds / 3600);
    return hours > 0
      ? `${hours}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`
      : `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
  }

  class WindowTimer extends HTMLElement {
    static observedAttributes = ["since", "min", "max", "now"];
    connectedCallback() {
      timers.add(this);
      if (timers.size === 1) askTheTime();
      this.draw();
    }
    disconnectedCallback() {
      timers.delete(this);
    }
    attributeChangedCallback(name, _, value) {
      if (name === "now" && offset === null) offset = Number(value) - performance.now();
      if (this.isConnected) this.draw();
    }
    number(name) {
      const value = this.getAttribute(name);
      return value === null ? null : Number(value);
    }
    draw() {
      const [left, bar] = [this.querySelector(".window-left"), this.querySelector(".window-bar")];
      if (offset === null || !left || !bar) return;
      const [since, min, max, at] = [this.number("since"), this.number("min"), this.number("max"), now()];
      const words = this.dataset;
      let state = "since";
      let text = `${words.since} ${clockText(at - since)}`;
      if (min !== null && at < min) {
        state = "early";
        text = `${words.early} ${clockText(Math.ceil((min - at) / 1000) * 1000)}`;
      } else if (max !== null && at <= max) {
        state = max - at < Math.max(60_000, (max - since) * 0.1) ? "near" : "due";
        text = min === null ? `${clockText(max - at)} ${words.left}` : words.due.replace("{0}", clockText(max - at));
      } else if (max !== null) {
        state = "over";
        text = words.over.replace("{0}", clockText(at - max));
      } else if (min !== null) {
        state = "due";
        text = words.open.replace("{0}", clockText(at - min));
      }
      if (left.textContent !== text) left.textContent = text;
      if (this.dataset.state !== state) {
        this.dataset.state = state;
        this.dispatchEvent(new CustomEvent("windowstate", { bubbles: true, detail: { state } }));
      }
      this.drawBar(bar, since, min, max, at);
    }
    drawBar(bar, since, min, max, at) {
      bar.hidden = min === null && max === null;
      if (bar.hidden) return;
      // The whole bar is the longest time and a tenth more; without a longest time twice the shortest.
      const whole = (max ?? min + (min - since)) - since;
      const share = (t) => `${Math.min(100, Math.max(0, ((t - since) / (whole * 1.1)) * 100))}%`;
      const [fill, minMark, maxMark] = bar.children;
      fill.style.width = share(at);
      minMark.hidden = min === null;
      maxMark.hidden = max === null;
      if (min !== null) minMark.style.left = share(min);
      if (max !== null) maxMark.style.left = share(max);
    }
  }
  customElements.define("window-timer", WindowTimer);

  let ticks = 0;
  setInterval(() => {
    for (const timer of timers) timer.draw();
    if (++ticks % 120 === 0 && timers.size > 0) askTheTime();
  }, 250);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && timers.size > 0 && askTheTime());
})();
