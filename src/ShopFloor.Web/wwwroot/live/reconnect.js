// When the connection is lost the page says so and tries again by itself; when the server no longer knows the page
// (it was started anew) the page loads again, for everything that matters is on the server.
(() => {
  const box = document.getElementById("components-reconnect-modal");
  if (!box) return;
  const reload = () => {
    box.dataset.leaving = "yes";
    location.reload();
  };

  // Loaded anew without a network the browser has nothing to show. Who pulls the page down out of habit is asked first.
  addEventListener("beforeunload", (event) => {
    if (box.open && !box.dataset.leaving) event.preventDefault();
  });

  box.addEventListener("components-reconnect-state-changed", ({ detail }) => {
    switch (detail.state) {
      case "show":
        if (!box.open) box.show();
        break;
      case "hide":
        box.close();
        break;
      case "failed":
        keepTrying();
        break;
      case "rejected":
      case "resume-failed":
        reload();
        break;
    }
  });

  // After the framework has given up: a plain question to the server every three seconds, then a fresh page.
  let trying = null;
  function keepTrying() {
    trying ??= setInterval(async () => {
      try {
        if ((await fetch("health/live", { cache: "no-store" })).ok) reload();
      } catch {
        // Still away; the box stays open and the next try comes.
      }
    }, 3000);
  }

  async function tryNow() {
    try {
      if (!(await Blazor.reconnect())) reload();
    } catch {
      keepTrying();
    }
  }
  box.addEventListener("click", (event) => event.target.closest("[data-retry]") && tryNow());
  // The device itself knows when its network is back: no need to wait for the next try.
  addEventListener("online", () => box.open && tryNow());

  // A page belongs to who opened it. When another tab has signed somebody else in, or out, its circuit must not go on in the old name:
  // it asks whenever it is looked at again, and at once when another page of somebody else is opened.
  const who = document.body.dataset.worker ?? "";
  async function stillMine() {
    try {
      const answer = await fetch("clock", { cache: "no-store", redirect: "manual" });
      const now = answer.headers.get("Shop-Worker") ?? "";
      if (answer.type === "opaqueredirect" || answer.status === 401 || (answer.ok && now !== who)) reload();
    } catch {
      // Away: nothing can be done in anybody's name.
    }
  }
  addEventListener("storage", (event) => {
    if (event.key === "signed-in" && event.newValue !== who) stillMine();
  });
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && who && stillMine());
  try {
    localStorage.setItem("signed-in", who);
  } catch {
    // No store: the look at the page's return still finds it.
  }
})();
