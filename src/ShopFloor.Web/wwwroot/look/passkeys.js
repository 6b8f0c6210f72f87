// Passkeys. A form in a passkey-door is sent when the device has answered: the server says what to ask for, the browser asks the device, and
// the answer goes with the form. The door stays shut where the browser knows no passkeys or the address is none for them: passkeys are bound
// to a name, want https (or this very machine), and know no addresses of figures.
(() => {
  const bytes = (text) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (letter) => letter.charCodeAt(0));
  const text = (buffer) =>
    btoa([...new Uint8Array(buffer)].map((byte) => String.fromCharCode(byte)).join(""))
      .replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
  const named = (list) => (list ?? []).map((one) => ({ ...one, id: bytes(one.id) }));

  const can = (domain) =>
    globalThis.isSecureContext && "PublicKeyCredential" in globalThis && Boolean(navigator.credentials?.create) && domain !== ""
    && !/^[\d.]+$|:/.test(location.hostname) && (location.hostname === domain || location.hostname.endsWith(`.${domain}`));

  // By hand: the browsers' own ways to and from JSON are younger than many a tablet.
  function asked(options, makes) {
    const key = { ...options, challenge: bytes(options.challenge) };
    if (!makes) return { ...key, allowCredentials: named(options.allowCredentials) };
    return { ...key, user: { ...options.user, id: bytes(options.user.id) }, excludeCredentials: named(options.excludeCredentials) };
  }

  function answered(credential) {
    const from = credential.response;
    const response = { clientDataJSON: text(from.clientDataJSON) };
    for (const part of ["attestationObject", "authenticatorData", "signature", "userHandle"])
      if (from[part]) response[part] = text(from[part]);
    if (from.getTransports) response.transports = from.getTransports();
    return JSON.stringify({
      id: credential.id,
      rawId: text(credential.rawId),
      type: credential.type,
      authenticatorAttachment: credential.authenticatorAttachment ?? undefined,
      clientExtensionResults: {},
      response,
    });
  }

  class PasskeyDoor extends HTMLElement {
    static observedAttributes = ["hidden"];

    connectedCallback() {
      this.open();
      this.addEventListener("submit", (event) => {
        event.preventDefault();
        if (!this.hasAttribute("aria-busy")) this.send(event.target);
      });
    }

    // A page that takes the place of another one says "hidden" again.
    attributeChangedCallback() {
      this.open();
    }

    open() {
      if (!this.hidden || !can(this.dataset.domain)) return;
      this.hidden = false;
      for (const words of document.querySelectorAll("[data-no-passkeys]")) words.hidden = true;
    }

    say(words) {
      this.querySelector("[data-said]").textContent = words;
    }

    async send(form) {
      this.setAttribute("aria-busy", "true");
      this.say("");
      try {
        const answer = await fetch(this.dataset.ask, { method: "POST", body: new FormData(form), headers: { Accept: "application/json" } });
        const said = await answer.json();
        if (!answer.ok) return this.say(said.text ?? this.dataset.failed);
        const makes = "user" in said;
        const publicKey = asked(said, makes);
        const credential = await (makes ? navigator.credentials.create({ publicKey }) : navigator.credentials.get({ publicKey }));
        form.elements.Credential.value = answered(credential);
        const same = form.querySelector("[data-as]");
        if (same) same.value = document.getElementById(same.dataset.as)?.checked ? "true" : "false";
        form.submit();
      } catch (error) {
        this.say(error.name === "InvalidStateError" ? this.dataset.there : this.dataset.failed);
      } finally {
        this.removeAttribute("aria-busy");
      }
    }
  }
  customElements.define("passkey-door", PasskeyDoor);
})();
