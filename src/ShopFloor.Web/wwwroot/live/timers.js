// Running timers. The server gives instants; the browser only counts between them, on its monotonic clock,
// and asks the server for the time again every half minute and whenever the page comes back into view.
(() => {
  const timers = new Set();
  let offset = null; // server time minus performance.now(), in milliseconds
  let lastAnswer = null;

  const now = () => performance.now() + offset;

  async function askTheTime() {
    const asked = performance.now();
    try {
      const answer = await fetch("clock", { cache: "no-store", redirect: "error" });
      // The session of whoever opened the page is over: nothing on it may be shown any longer.
      if (answer.status === 401 && document.body.dataset.worker) location.reload();
      if (!answer.ok) return;
      const got = performance.now();
      offset = Number(await answer.text()) - (asked + got) / 2;
      lastAnswer = got;
    } catch {
      // No answer: the timers go on, and the bar below says since when nothing was heard.
    }
  }

  const two = (n) => String(n).padStart(2, "0");
  function clockText(milliseconds) {
    const seconds = Math.floor(Math.abs(milliseconds) / 1000);
    const hours = Math.floor(seconds / 3600);
    const minutes = Math.floor(seconds / 60) % 60;
    return hours > 0 ? `${hours}:${two(minutes)}:${two(seconds % 60)}` : `${minutes}:${two(seconds % 60)}`;
  }

  // By the workshop's clock, whatever the browser is used to.
  function timeOfDay(milliseconds, zone) {
    const hour12 = document.documentElement.dataset.clock === "12";
    const form = { hour: hour12 ? "numeric" : "2-digit", minute: "2-digit", hour12, timeZone: zone };
    return new Date(milliseconds).toLocaleTimeString(document.documentElement.lang, form);
  }

  class RunTimer extends HTMLElement {
    static observedAttributes = ["now", "due", "latest", "since"];
    connectedCallback() {
      timers.add(this);
      this.draw();
    }
    disconnectedCallback() {
      timers.delete(this);
    }
    attributeChangedCallback(name, _, value) {
      if (name === "now" && offset === null) offset = Number(value) - performance.now();
      if (this.isConnected) this.draw();
    }
    draw() {
      if (offset === null) return;
      const since = this.getAttribute("since");
      if (since !== null) {
        this.show(clockText(now() - Number(since)), "counting");
        return;
      }
      const rest = Number(this.getAttribute("due")) - now();
      const latest = this.getAttribute("latest");
      if (rest > 0) this.show(clockText(Math.ceil(rest / 1000) * 1000), "running");
      else if (latest !== null && Number(latest) > now()) this.show("+" + clockText(rest), "due");
      else this.show("+" + clockText(rest), "over");
    }
    show(text, state) {
      if (this.textContent !== text) this.textContent = text;
      if (this.dataset.state === state) return;
      this.dataset.state = state;
      this.dispatchEvent(new CustomEvent("timerstate", { bubbles: true, detail: { state } }));
    }
  }
  customElements.define("run-timer", RunTimer);

  // The time of day on the wall, from the server's clock and in the shop's zone.
  customElements.define(
    "shop-clock",
    class extends RunTimer {
      draw() {
        if (offset === null) return;
        const text = timeOfDay(now(), this.getAttribute("zone") || undefined);
        if (this.textContent !== text) this.textContent = text;
      }
    },
  );

  // A screen that nobody touches must say by itself that what it shows is old.
  function judgeAge() {
    for (const bar of document.querySelectorAll("[data-stale-after]")) {
      const silent = lastAnswer === null ? performance.now() : performance.now() - lastAnswer;
      bar.hidden = silent < Number(bar.dataset.staleAfter) * 1000;
      const word = bar.querySelector("[data-stale-since]");
      if (!bar.hidden && word && offset !== null) word.textContent = timeOfDay(now() - silent, document.querySelector("shop-clock")?.getAttribute("zone") || undefined);
    }
  }

  const wanted = () => timers.size > 0 || document.querySelector("[data-stale-after]") !== null;
  let ticks = 0;
  setInterval(() => {
    for (const timer of timers) timer.draw();
    judgeAge();
    const every = document.querySelector("[data-stale-after]") ? 20 : 120;
    if (++ticks % every === 0 && wanted()) askTheTime();
  }, 250);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible" && wanted()) askTheTime();
  });
  addEventListener("DOMContentLoaded", () => {
    if (wanted()) askTheTime();
  });
})();
