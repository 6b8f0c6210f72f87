// What the Counter's pages need beside the circuit: sending pictures, laying them by finger, noticing that nobody is there.
(() => {
  // Sends a chosen picture by plain HTTP with its progress. It stays here until it arrived, so that it can be sent again under the same id.
  class PictureSender extends HTMLElement {
    connectedCallback() {
      if (this.ready) return;
      this.ready = true;
      this.addEventListener("change", (event) => {
        if (event.target.type !== "file" || !event.target.files?.[0]) return;
        this.file = event.target.files[0];
        this.id = newId();
        if (!this.querySelector("form")) this.send();
      });
      this.addEventListener("submit", (event) => {
        if (!this.file) return;
        event.preventDefault();
        this.send();
      });
      this.addEventListener("click", (event) => {
        if (event.target.closest("[data-again]")) this.send();
      });
    }

    say(text) {
      const word = this.querySelector(".sender-word");
      if (word) word.textContent = text;
    }

    show(busy, again) {
      const bar = this.querySelector("progress");
      if (bar) bar.hidden = !busy;
      const button = this.querySelector("[data-again]");
      if (button) button.hidden = !again;
    }

    send() {
      const most = Number(this.dataset.most);
      if (most && this.file.size > most) {
        this.show(false, false);
        this.say(this.dataset.tooLarge);
        return;
      }
      const form = new FormData();
      form.append("__RequestVerificationToken", this.querySelector("[name=__RequestVerificationToken]")?.value ?? "");
      form.append("picture", this.file, this.file.name);
      const request = new XMLHttpRequest();
      request.open("POST", this.getAttribute("action"));
      request.setRequestHeader("X-Upload", this.id);
      request.timeout = 180000;
      const bar = this.querySelector("progress");
      request.upload.onprogress = (event) => {
        if (!event.lengthComputable) return;
        const share = Math.round((100 * event.loaded) / event.total);
        if (bar) bar.value = share;
        this.say(share < 100 ? `${this.dataset.sending}: ${share} %` : this.dataset.looking);
      };
      request.onload = () => this.answered(request);
      request.onerror = request.ontimeout = () => {
        this.show(false, true);
        this.say(this.dataset.broken);
      };
      this.show(true, false);
      this.say(`${this.dataset.sending} …`);
      request.send(form);
    }

    answered(request) {
      let answer = {};
      try {
        answer = JSON.parse(request.responseText);
      } catch {
        // No words of the server's: the general ones are said.
      }
      const ok = request.status === 200;
      this.show(false, !ok && !answer.text);
      this.say(ok ? this.dataset.done : (answer.text ?? this.dataset.broken));
      for (const input of this.querySelectorAll("input[type=file]")) input.value = "";
      if (ok) this.file = null;
    }
  }

  const newId = () => {
    if (crypto.randomUUID) return crypto.randomUUID();
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    const hex = [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
    return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
  };

  // Follows one finger to move and two to come closer; tells the page once, when the fingers are lifted.
  class PicturePlacer extends HTMLElement {
    connectedCallback() {
      if (this.ready) return;
      this.ready = true;
      this.fingers = new Map();
      this.addEventListener("pointerdown", (event) => this.down(event));
      this.addEventListener("pointermove", (event) => this.move(event));
      for (const end of ["pointerup", "pointercancel"]) this.addEventListener(end, (event) => this.up(event));
      this.addEventListener("wheel", (event) => {
        if (!event.ctrlKey) return;
        event.preventDefault();
        this.tell(0, 0, event.deltaY < 0 ? 1.15 : 0.87);
      }, { passive: false });
    }

    down(event) {
      this.setPointerCapture(event.pointerId);
      this.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      this.begin();
    }

    // A finger that comes or goes begins a new gesture on what was reached.
    begin() {
      this.start = this.middle();
      this.base = this.done ?? { x: 0, y: 0, zoom: 1 };
    }

    middle() {
      const all = [...this.fingers.values()];
      const x = all.reduce((sum, f) => sum + f.x, 0) / all.length;
      const y = all.reduce((sum, f) => sum + f.y, 0) / all.length;
      const spread = all.length > 1 ? Math.hypot(all[0].x - all[1].x, all[0].y - all[1].y) : 0;
      return { x, y, spread };
    }

    move(event) {
      if (!this.fingers.has(event.pointerId)) return;
      this.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
      const now = this.middle();
      const zoom = this.start.spread > 20 && now.spread > 20 ? now.spread / this.start.spread : 1;
      this.done = { x: this.base.x + now.x - this.start.x, y: this.base.y + now.y - this.start.y, zoom: this.base.zoom * zoom };
      const moving = this.querySelector("[data-moving]");
      if (!moving) return;
      const box = this.querySelector("svg").getBoundingClientRect();
      const view = this.querySelector("svg").viewBox.baseVal;
      const scale = view.width / box.width;
      const [cx, cy] = [view.x + view.width / 2, view.y + view.height / 2];
      moving.setAttribute("transform",
        `translate(${this.done.x * scale} ${this.done.y * scale}) translate(${cx} ${cy}) scale(${this.done.zoom}) translate(${-cx} ${-cy})`);
    }

    up(event) {
      if (!this.fingers.delete(event.pointerId)) return;
      if (this.fingers.size > 0) return this.begin();
      const done = this.done;
      this.done = null;
      if (!done || (Math.hypot(done.x, done.y) < 4 && Math.abs(done.zoom - 1) < 0.02)) {
        this.querySelector("[data-moving]")?.removeAttribute("transform");
        return;
      }
      const svg = this.querySelector("svg");
      const box = svg.getBoundingClientRect();
      const shown = (Number(this.dataset.face) / svg.viewBox.baseVal.width) * box.width;
      const tall = (Number(this.dataset.faceHigh) / svg.viewBox.baseVal.height) * box.height;
      this.querySelector("[data-moving]")?.removeAttribute("transform");
      this.tell(done.x / shown, done.y / tall, done.zoom);
    }

    tell(right, down, zoom) {
      const field = this.querySelector("input[type=hidden]");
      field.value = `${right.toFixed(5)} ${down.toFixed(5)} ${zoom.toFixed(5)}`;
      field.dispatchEvent(new Event("change", { bubbles: true }));
    }
  }

  // Nobody touches the device for a while: asks with a countdown, then sends its form, which wipes on the server.
  class IdleGuard extends HTMLElement {
    connectedCallback() {
      this.last = Date.now();
      this.stir = (event) => {
        if (!this.asking || event.target.closest?.("[data-stay]")) this.stay();
      };
      for (const kind of ["pointerdown", "keydown", "input"]) document.addEventListener(kind, this.stir, true);
      this.beat = setInterval(() => this.look(), 1000);
      this.querySelector("dialog")?.addEventListener("cancel", (event) => {
        event.preventDefault();
        this.stay();
      });
    }

    disconnectedCallback() {
      clearInterval(this.beat);
      for (const kind of ["pointerdown", "keydown", "input"]) document.removeEventListener(kind, this.stir, true);
    }

    stay() {
      this.last = Date.now();
      this.asking = false;
      this.querySelector("dialog")?.close();
    }

    look() {
      const quiet = Math.floor((Date.now() - this.last) / 1000);
      const left = Number(this.dataset.seconds) + Number(this.dataset.warn) - quiet;
      if (left <= 0) return this.wipe();
      if (left > Number(this.dataset.warn)) return;
      const dialog = this.querySelector("dialog");
      if (dialog && !this.asking) dialog.showModal();
      this.asking = true;
      const word = this.querySelector("[data-left]");
      if (word) word.textContent = String(left);
    }

    // The form wipes on the server. When the server is away, what stands here is taken off the screen at least.
    async wipe() {
      clearInterval(this.beat);
      const form = this.querySelector("form");
      try {
        await fetch("health/live", { cache: "no-store", signal: AbortSignal.timeout(4000) });
        form.submit();
      } catch {
        for (const main of document.querySelectorAll("main")) main.replaceChildren();
        setInterval(async () => {
          if ((await fetch("health/live", { cache: "no-store" }).catch(() => null))?.ok) {
            document.body.append(form);
            form.submit();
          }
        }, 3000);
      }
    }
  }

  // Puts a text file into the field of the page.
  class TextFile extends HTMLElement {
    connectedCallback() {
      this.addEventListener("change", async (event) => {
        const file = event.target.files?.[0];
        if (!file) return;
        event.stopPropagation();
        const field = document.getElementById(event.target.dataset.into);
        const text = (await file.slice(0, 4 * field.maxLength).text()).replace(/\r\n?/g, "\n");
        field.value = text.slice(0, field.maxLength);
        field.dispatchEvent(new Event("input", { bubbles: true }));
        field.dispatchEvent(new Event("change", { bubbles: true }));
        event.target.value = "";
      });
    }
  }

  // A new step begins at its question; on a tablet the cursor goes on into the first field (a phone's keyboard would cover the question).
  class StepStart extends HTMLElement {
    connectedCallback() {
      requestAnimationFrame(() => {
        if (document.activeElement?.matches("input, textarea, select")) return;
        scrollTo(0, 0);
        document.querySelector("main h1")?.focus({ preventScroll: true });
        const field = innerWidth >= 700 && document.getElementById(this.dataset.of);
        if (field && !field.value) field.focus({ preventScroll: true });
      });
    }
  }

  // Who works here types all day: Enter in a field of one line goes on. A customer's tablet does not, where the same key means "next".
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.isComposing || !event.target.matches?.(".order[data-keys] input.input:not(#find)")) return;
    event.preventDefault();
    event.target.dispatchEvent(new Event("change", { bubbles: true }));
    document.getElementById("continue")?.click();
  });

  customElements.define("step-start", StepStart);
  customElements.define("picture-sender", PictureSender);
  customElements.define("picture-placer", PicturePlacer);
  customElements.define("idle-guard", IdleGuard);
  customElements.define("text-file", TextFile);
})();
