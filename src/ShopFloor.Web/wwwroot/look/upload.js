// Sends a chosen file by plain HTTP with progress, tries again after a lost connection under the same id,
// and tells the page with an event.
(() => {
  const tries = 4;

  class FileSender extends HTMLElement {
    connectedCallback() {
      this.addEventListener("change", (event) => {
        const file = event.target.files?.[0];
        if (file) this.send(file);
      });
    }

    say(text) {
      const output = this.parentElement?.querySelector("[data-progress]");
      if (output) output.textContent = text;
    }

    async send(file) {
      const id = crypto.randomUUID?.() ?? ([1e7] + -1e3 + -4e3 + -8e3 + -1e11).replace(/[018]/g, (c) =>
        (c ^ (crypto.getRandomValues(new Uint8Array(1))[0] & (15 >> (c / 4)))).toString(16));
      for (let attempt = 1; attempt <= tries; attempt++) {
        const answer = await this.post(file, id);
        if (answer.status === 200) {
          this.say(`${this.dataset.sent}: ${file.name}`);
          this.dispatchEvent(new CustomEvent("filesent", { bubbles: true, detail: { id, name: file.name } }));
          return;
        }
        if (answer.status !== 0) {
          this.say(answer.text || this.dataset.failed);
          return;
        }
        await new Promise((go) => setTimeout(go, 500 * 2 ** attempt));
      }
      this.say(this.dataset.failed);
    }

    post(file, id) {
      return new Promise((done) => {
        const request = new XMLHttpRequest();
        request.open("POST", `uploads/${this.getAttribute("draft")}/${id}`);
        request.setRequestHeader("RequestVerificationToken", this.querySelector("[name=__RequestVerificationToken]")?.value ?? "");
        request.setRequestHeader("Content-Type", "application/octet-stream");
        request.upload.onprogress = (e) => {
          if (e.lengthComputable) this.say(`${this.dataset.sending}: ${Math.round((100 * e.loaded) / e.total)} %`);
        };
        request.onload = () => {
          let text = "";
          try {
            text = JSON.parse(request.responseText).text;
          } catch {
            // No words of the server's: the general ones are said.
          }
          done({ status: request.status, text });
        };
        request.onerror = () => done({ status: 0 });
        request.send(file);
      });
    }
  }
  customElements.define("file-sender", FileSender);

  const register = () => {
    if (!globalThis.Blazor?.registerCustomEventType) return setTimeout(register, 20);
    Blazor.registerCustomEventType("filesent", { createEventArgs: (event) => event.detail });
  };
  register();
})();
