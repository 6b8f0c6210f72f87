// Taps and scans of the Bench. A tap gets its id here and stays in the page's own store until the server has answered it, so it is
// neither lost when the line drops nor done twice when it is sent again. It belongs to who was signed in when it was tapped: whoever signs
// in next on the same device neither sends it nor loses it.
(() => {
  const store = "bench-outbox";
  const tooOld = 10 * 60_000;
  const forgotten = 12 * 3600 * 1000;
  const triesOfOne = 3;
  const aside = 60_000;
  const read = () => JSON.parse(localStorage.getItem(store) ?? "[]");
  const write = (list) => localStorage.setItem(store, JSON.stringify(list));
  const box = () => document.querySelector("bench-outbox");
  const me = () => document.body.dataset.worker ?? "";
  const mine = () => read().filter((i) => i.tap.worker === me());
  const pause = (ms) => new Promise((go) => setTimeout(go, ms));
  let sending = false;
  let wake = null;
  let offset = 0; // server time minus this device's, in milliseconds
  let outcomes = 0;

  // Version 7: the time first, so ids sort as they were made.
  function newId() {
    const b = crypto.getRandomValues(new Uint8Array(16));
    let ms = Date.now();
    for (let i = 5; i >= 0; i--) {
      b[i] = ms % 256;
      ms = Math.floor(ms / 256);
    }
    b[6] = 0x70 | (b[6] & 0x0f);
    b[8] = 0x80 | (b[8] & 0x3f);
    const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
    return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
  }

  async function askTheTime() {
    try {
      const asked = Date.now();
      const answer = await fetch("clock", { cache: "no-store", redirect: "error" });
      if (answer.ok) offset = Number(await answer.text()) - (asked + Date.now()) / 2;
    } catch {
      // The device's own clock serves until the server answers again.
    }
  }

  // A short tone: high for yes, two low ones for no. Browsers allow it after the first touch.
  let audio = null;
  function sound(good) {
    if (localStorage.getItem("bench-sound") === "off") return;
    try {
      audio ??= new AudioContext();
      for (const [at, pitch] of good ? [[0, 880]] : [[0, 220], [0.18, 180]]) {
        const tone = audio.createOscillator();
        const gain = audio.createGain();
        tone.frequency.value = pitch;
        gain.gain.value = 0.15;
        tone.connect(gain).connect(audio.destination);
        tone.start(audio.currentTime + at);
        tone.stop(audio.currentTime + at + 0.12);
      }
    } catch {
      // No sound device: the words are there all the same.
    }
    navigator.vibrate?.(good ? 30 : [60, 40, 60]);
  }

  function say(kind, text, asks = false) {
    const place = box()?.querySelector("[data-said]");
    if (!place) return;
    place.textContent = text;
    place.parentElement.dataset.kind = kind;
    place.parentElement.toggleAttribute("data-asks", asks);
    place.parentElement.hidden = text === "";
  }

  // What keeps the first of them from going is said before that they wait at all.
  function waitingWord(why) {
    const count = mine().filter((i) => !(i.until > Date.now())).length;
    const words = box()?.dataset;
    if (!words) return;
    if (count > 0) say("wait", why || words.waiting.replace("{0}", count));
    else if (box().querySelector("[data-said]")?.parentElement.dataset.kind === "wait") say("", "");
    keptWord();
  }

  // Beside what just happened: taps that the server cannot do now, and those of somebody else.
  function keptWord() {
    const place = box()?.querySelector("[data-kept]");
    if (!place) return;
    const words = box().dataset;
    const held = [...new Set(mine().filter((i) => i.until > Date.now()).map((i) => i.tap.code))].map((code) => words.held.replace("{0}", code));
    const others = new Map();
    for (const i of read().filter((i) => i.tap.worker !== me())) {
      const key = JSON.stringify([i.who ?? "", Date.now() - i.at > tooOld]);
      others.set(key, (others.get(key) ?? 0) + 1);
    }
    const theirs = [...others].map(([key, count]) => {
      const [who, isOld] = JSON.parse(key);
      return (isOld ? words.othersOld : words.others).replaceAll("{1}", who || "?").replace("{0}", count);
    });
    place.textContent = [...held, ...theirs].join(" ");
    place.parentElement.hidden = place.textContent === "";
  }

  async function post(address, body, type) {
    const token = (box() ?? document).querySelector("input[name=__RequestVerificationToken]")?.value ?? "";
    return fetch(address, {
      method: "POST",
      body,
      headers: { "Content-Type": type, RequestVerificationToken: token },
      redirect: "manual",
      signal: AbortSignal.timeout(8000),
    });
  }

  function busy(code, on) {
    for (const button of document.querySelectorAll("[data-move]"))
      if (button.dataset.sends === code) on ? button.setAttribute("aria-busy", "true") : button.removeAttribute("aria-busy");
  }

  function settle(item, outcome) {
    write(read().filter((i) => i.tap.command !== item.tap.command));
    busy(item.tap.command, false);
    document.querySelector(`[data-sends="${item.tap.command}"]`)?.removeAttribute("data-sends");
    sound(outcome.ok);
    say(outcome.ok ? "yes" : "no", outcome.text, !outcome.ok && outcome.refusals?.length > 0);
    const detail = { ...outcome, move: item.tap.move, tap: JSON.stringify(item.tap) };
    keepAsked(item.tap, detail);
    outcomes++;
    document.documentElement.dataset.benchOutcomes = outcomes;
    box()?.dispatchEvent(
      new CustomEvent("moveoutcome", { bubbles: true, detail }),
    );
  }

  // What ended and is still to be decided of is kept with the moment of its tap: a reload or an empty battery loses neither.
  const askedKey = "bench-asked";
  const askedTooOld = 12 * 3600 * 1000;
  const allAsked = () => JSON.parse(localStorage.getItem(askedKey) ?? "{}");

  function keepAsked(sent, detail) {
    if (sent.move !== "finish" && sent.move !== "finishBatch") return;
    const all = allAsked();
    if (!detail.ok && detail.refusals?.length > 0) all[sent.code] = detail;
    else delete all[sent.code];
    localStorage.setItem(askedKey, JSON.stringify(all));
  }

  globalThis.benchAsked = (code) => {
    const found = allAsked()[code];
    return found && Date.now() - JSON.parse(found.tap).tappedAt < askedTooOld ? found : null;
  };

  globalThis.benchForget = (code) => {
    const all = allAsked();
    delete all[code];
    localStorage.setItem(askedKey, JSON.stringify(all));
  };

  // The answer: it is done with; or why it is not, in words or in none.
  async function sendOne(item) {
    if (Date.now() - item.at > tooOld) {
      settle(item, { ok: false, text: box()?.dataset.old ?? "", command: item.tap.command, refusals: [] });
      return { settled: true };
    }
    let answer;
    try {
      answer = await post("bench/moves", JSON.stringify(item.tap), "application/json");
    } catch {
      return {};
    }
    if (answer.type === "opaqueredirect" || answer.status === 401) return { why: box()?.dataset.signin };
    if (answer.status === 403 && !item.again) {
      // The page's form token is from before a restart: a fresh page has a fresh one, and the tap waits here for it.
      change(item, { again: true });
      location.reload();
      return {};
    }
    if (answer.status === 409) {
      // Another page signed somebody else in: a fresh page is theirs, and the tap waits here for who made it.
      if (!item.moved) location.reload();
      change(item, { moved: true });
      return { why: box()?.dataset.signin };
    }
    if (answer.status === 503) return { why: await wordsOf(answer) };
    if (answer.status === 500) {
      // It is this tap that the server fails at: those of other pieces need not wait behind it.
      const fails = (item.fails ?? 0) + 1;
      change(item, fails % triesOfOne === 0 ? { fails, until: Date.now() + aside } : { fails });
      return {};
    }
    if (answer.status > 500) return {};
    const outcome = answer.ok ? await answer.json() : { ok: false, text: box()?.dataset.refused ?? "", command: item.tap.command, refusals: [] };
    settle(item, outcome);
    return { settled: true };
  }

  function change(item, facts) {
    write(read().map((i) => (i.tap.command === item.tap.command ? { ...i, ...facts } : i)));
  }

  async function wordsOf(answer) {
    try {
      return (await answer.json()).text;
    } catch {
      return null; // Not the program itself said so, but something before it.
    }
  }

  // The first that may go. What was tapped on a piece after a tap that was put aside waits for that one.
  function next() {
    const held = new Set();
    for (const item of mine()) {
      if (item.until > Date.now()) held.add(item.tap.code);
      else if (!held.has(item.tap.code)) return item;
    }
    return null;
  }

  async function sendAll() {
    if (sending) return;
    sending = true;
    clearTimeout(wake);
    try {
      for (let wait = 500, item; (item = next()); ) {
        const sent = await sendOne(item);
        if (sent.settled) {
          wait = 500;
          continue;
        }
        waitingWord(sent.why);
        await pause(wait);
        wait = Math.min(wait * 1.6, 4000);
      }
    } finally {
      sending = false;
      waitingWord();
      if (mine().length > 0) wake = setTimeout(sendAll, Math.max(1000, ...mine().map((i) => (i.until ?? 0) - Date.now())));
    }
  }

  // Before somebody signs out: what waits has this long to go.
  globalThis.benchSend = async (within) => {
    sendAll();
    for (const end = Date.now() + within; mine().length > 0 && Date.now() < end; ) await pause(100);
  };

  function tap(fields, button) {
    if (button?.hasAttribute("data-sends")) return; // The first touch of this button is still on its way.
    // A tap that goes again with a decision keeps the time of the first.
    const made = { ...fields, command: newId(), tappedAt: fields.tappedAt ?? Math.round(Date.now() + offset), worker: me() };
    if (button) button.dataset.sends = made.command;
    busy(made.command, true);
    write([...read(), { tap: made, at: Date.now(), who: document.body.dataset.name }]);
    sendAll();
  }

  // Fields beside the button (a reading, a choice) travel with the tap.
  function gathered(button) {
    const fields = JSON.parse(button.dataset.move);
    const form = button.closest("[data-move-form]");
    for (const input of form?.querySelectorAll("[data-tap-field]") ?? []) {
      const value = input.value.trim().replace(",", ".");
      if (value === "") continue;
      fields[input.dataset.tapField] = input.dataset.tapNumber !== undefined ? Number(value) : input.value.trim();
    }
    return fields;
  }

  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("[data-move]");
    if (!button || button.disabled || button.getAttribute("aria-disabled") === "true") return;
    const fields = gathered(button);
    if (Object.values(fields).some((v) => typeof v === "number" && Number.isNaN(v))) {
      say("no", box()?.dataset.number ?? "");
      return;
    }
    tap(fields, button);
  });

  // Scans: from the field, a keyboard-wedge scanner, or the camera.
  async function find(code) {
    const into = document.querySelector("[data-scan-into]")?.dataset.scanInto;
    if (into) {
      tap({ move: document.querySelector("[data-scan-out]")?.checked ? "scanOut" : "scanIn", code: into, other: code });
      return;
    }
    for (let wait = 500; ; wait = Math.min(wait * 1.6, 4000)) {
      try {
        const answer = await fetch(`bench/find?code=${encodeURIComponent(code)}`, { redirect: "manual", signal: AbortSignal.timeout(8000) });
        if (answer.ok) {
          const found = await answer.json();
          sound(Boolean(found.code || found.to));
          if (found.to) {
            say("", "");
            Blazor.navigateTo(found.to);
          } else if (!found.code) say("no", found.text);
          else {
            say("", "");
            if (found.calls > 0) tap({ move: "see", code: found.code });
            Blazor.navigateTo(`b/${encodeURIComponent(found.code)}`);
          }
          return;
        }
        if (answer.status < 500) {
          say("wait", box()?.dataset.signin ?? "");
          return;
        }
      } catch {
        say("wait", (box()?.dataset.scanWaits ?? "").replace("{0}", code));
      }
      await pause(wait);
    }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target.closest?.("form[data-scan]");
    if (!form) return;
    event.preventDefault();
    const field = form.querySelector("input");
    const code = field.value.trim();
    if (code === "") say("no", box()?.dataset.empty ?? "");
    else find(code);
    field.value = "";
  });

  // A scanner types faster than any hand and ends with Enter: only then is it taken without a focused field.
  let typed = "";
  let last = 0;
  document.addEventListener("keydown", (event) => {
    if (event.target.closest?.("input, textarea, select, [contenteditable]") || !box()) return;
    const quick = event.timeStamp - last < 40;
    last = event.timeStamp;
    if (event.key === "Enter") {
      if (quick && typed.length >= 6) {
        event.preventDefault();
        find(typed);
      }
      typed = "";
    } else if (event.key.length === 1) typed = quick ? typed + event.key : event.key;
  });

  // Camera: the browser's own detector where there is one, else small frames that the server reads.
  let stream = null;
  async function openCamera() {
    const dialog = document.getElementById("bench-camera");
    if (!dialog) return;
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: 960, height: 720 } });
    } catch {
      say("no", box()?.dataset.nocamera ?? "");
      return;
    }
    let code = null;
    // However the looking ends, the camera goes off: it would film on behind the page.
    try {
      const video = dialog.querySelector("video");
      video.srcObject = stream;
      dialog.showModal();
      await video.play();
      code = await look(video, dialog);
    } finally {
      closeCamera();
    }
    if (code) find(code);
  }

  async function look(video, dialog) {
    const detector = "BarcodeDetector" in globalThis ? new BarcodeDetector({ formats: ["qr_code"] }) : null;
    const canvas = document.createElement("canvas");
    while (dialog.open) {
      const code = detector ? await byBrowser(detector, video) : await byServer(video, canvas);
      if (code) return code;
      await pause(detector ? 120 : 350);
    }
    return null;
  }

  // A frame that cannot be read, such as the first ones of a camera that is still starting, shows nothing.
  async function byBrowser(detector, video) {
    try {
      return (await detector.detect(video))[0]?.rawValue;
    } catch {
      return null;
    }
  }

  async function byServer(video, canvas) {
    if (video.videoWidth === 0) return null;
    canvas.width = Math.min(640, video.videoWidth);
    canvas.height = Math.round((canvas.width * video.videoHeight) / video.videoWidth);
    canvas.getContext("2d").drawImage(video, 0, 0, canvas.width, canvas.height);
    const frame = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.7));
    try {
      const answer = await post("bench/frame", frame, "image/jpeg");
      return answer.ok ? (await answer.json()).code : null;
    } catch {
      return null;
    }
  }

  function closeCamera() {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = null;
    document.getElementById("bench-camera")?.close();
  }

  document.addEventListener("click", (event) => {
    if (event.target.closest?.("[data-camera]")) openCamera();
    if (event.target.closest?.("[data-camera-close]")) closeCamera();
    const switchSound = event.target.closest?.("[data-bench-sound]");
    if (switchSound) {
      const off = localStorage.getItem("bench-sound") !== "off";
      localStorage.setItem("bench-sound", off ? "off" : "on");
      switchSound.setAttribute("aria-pressed", String(off));
    }
  });

  customElements.define(
    "bench-outbox",
    class extends HTMLElement {
      connectedCallback() {
        write(read().filter((i) => Date.now() - i.at < forgotten));
        // What it holds is put into it after it is in the page.
        setTimeout(waitingWord);
        sendAll();
        askTheTime();
      }
    },
  );
  // Of several cards of a tray one has its buttons at the foot of the screen: the one that lies in the middle of it. Two rows of buttons that
  // look alike would be tapped for one another.
  let looking = false;
  function lookWhichCard() {
    if (looking) return;
    looking = true;
    requestAnimationFrame(() => {
      looking = false;
      const cards = [...document.querySelectorAll(".piece-card")];
      const middle = innerHeight / 2;
      const far = (card) => {
        const { top, bottom } = card.getBoundingClientRect();
        return Math.max(0, top - middle, middle - bottom);
      };
      const nearest = cards.length > 1 ? cards.reduce((a, b) => (far(b) < far(a) ? b : a)) : null;
      for (const card of cards) if (card.hasAttribute("data-in-view") !== (card === nearest)) card.toggleAttribute("data-in-view");
    });
  }
  addEventListener("scroll", lookWhichCard, { passive: true });
  addEventListener("resize", lookWhichCard);
  new MutationObserver(() => box() && lookWhichCard()).observe(document.body, { childList: true, subtree: true });

  // What a choice brings up may begin below the screen: then it comes to the top, so that the choice is seen to have done something.
  customElements.define(
    "bench-brought",
    class extends HTMLElement {
      static observedAttributes = ["by"];
      connectedCallback() {
        this.show();
      }
      attributeChangedCallback() {
        if (this.isConnected) this.show();
      }
      show() {
        requestAnimationFrame(() => {
          const { top, bottom } = this.getBoundingClientRect();
          if (top >= 0 && bottom <= innerHeight) return;
          const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
          this.scrollIntoView({ block: "start", behavior: still ? "instant" : "smooth" });
        });
      }
    },
  );

  addEventListener("online", sendAll);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && box() && (askTheTime(), sendAll()));

  const register = () => {
    if (!globalThis.Blazor?.registerCustomEventType) return setTimeout(register, 20);
    Blazor.registerCustomEventType("moveoutcome", { createEventArgs: (event) => event.detail });
  };
  register();
})();
