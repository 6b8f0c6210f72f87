// Keeps what is entered into a form and not saved, in this tab alone and for the person who is signed in: a reload, a new sign-in or a
// line that broke loses none of it (Shared/Controls/KeptEntry.razor).
(() => {
  const tooOld = 12 * 3600 * 1000;
  const kinds = ["password", "file", "hidden"];
  const isKept = (field) => field.id && field.matches("input, textarea, select") && !kinds.includes(field.type);
  const isTick = (field) => field.type === "checkbox" || field.type === "radio";
  const valueOf = (field) => (isTick(field) ? field.checked : field.value);

  class KeptEntry extends HTMLElement {
    static observedAttributes = ["data-saves"];

    get key() {
      return `entry ${document.body.dataset.worker ?? ""} ${this.dataset.name}`;
    }

    get kept() {
      const all = JSON.parse(sessionStorage.getItem(this.key) ?? "null");
      return all && Date.now() - all.at < tooOld ? all.fields : {};
    }

    connectedCallback() {
      this.keep = (event) => {
        if (this.filling || !isKept(event.target)) return;
        const fields = { ...this.kept, [event.target.id]: valueOf(event.target) };
        sessionStorage.setItem(this.key, JSON.stringify({ at: Date.now(), fields }));
      };
      this.drop = (event) => {
        if (!event.target.closest?.("[data-drop]")) return;
        this.forget();
        location.reload();
      };
      this.addEventListener("input", this.keep);
      this.addEventListener("change", this.keep);
      this.addEventListener("click", this.drop);
    }

    disconnectedCallback() {
      this.removeEventListener("input", this.keep);
      this.removeEventListener("change", this.keep);
      this.removeEventListener("click", this.drop);
    }

    attributeChangedCallback(name, before, now) {
      if (before !== null && before !== now) this.forget();
    }

    forget() {
      sessionStorage.removeItem(this.key);
      this.tell(false);
    }

    tell(on) {
      const told = this.querySelector("[data-told]");
      if (told) told.hidden = !on;
    }

    // As if it were typed: the page hears of each field.
    fill() {
      let filled = false;
      this.filling = true;
      for (const [id, value] of Object.entries(this.kept)) {
        const field = document.getElementById(id);
        if (!field || !this.contains(field) || valueOf(field) === value) continue;
        if (isTick(field)) field.checked = value;
        else field.value = value;
        field.dispatchEvent(new Event("input", { bubbles: true }));
        field.dispatchEvent(new Event("change", { bubbles: true }));
        filled = true;
      }
      this.filling = false;
      this.tell(filled);
      if (filled) this.scrollIntoView({ block: "start" });
    }
  }

  customElements.define("kept-entry", KeptEntry);
  globalThis.keptEntry = (name) => document.querySelector(`kept-entry[data-name="${CSS.escape(name)}"]`)?.fill();
})();
