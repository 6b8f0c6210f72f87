// A table that is too wide for a phone is read row by row instead: each row a block, with the head of its column beside every value. The long one,
// whose rows have one height, and what is too wide elsewhere scroll, with a shade where there is more. Whether a table is too wide only the browser
// knows. Once it stands row by row it stays so until the screen's width changes, or the page would jump with each news.
(() => {
  const narrow = matchMedia("(max-width: 40rem)");
  const words = (head) => (head.querySelector(".only-heard") ? "" : head.textContent.trim());
  // Blocks are no rows and cells to every screen reader, so it is said what they are.
  const roles = { TABLE: "table", THEAD: "rowgroup", TBODY: "rowgroup", TFOOT: "rowgroup", TR: "row", TD: "cell" };

  customElements.define(
    "table-frame",
    class extends HTMLElement {
      connectedCallback() {
        this.news = new MutationObserver(() => this.fit());
        this.room = new ResizeObserver(() => {
          if (this.width === this.clientWidth) return;
          this.removeAttribute("data-stacked");
          this.fit();
        });
        this.room.observe(this);
      }
      disconnectedCallback() {
        this.room.disconnect();
        this.news.disconnect();
      }
      fit() {
        const table = this.querySelector("table");
        this.news.disconnect();
        this.width = this.clientWidth;
        const isWide = this.hasAttribute("data-stacked") || this.scrollWidth > this.clientWidth + 1;
        const stacks = isWide && table !== null && narrow.matches && !this.hasAttribute("data-long");
        if (stacks) this.name(table);
        this.toggleAttribute("data-stacked", stacks);
        this.toggleAttribute("data-wide", isWide && !stacks);
        this.news.observe(this, { childList: true, characterData: true, subtree: true, attributeFilter: ["data-stacked"] });
      }
      name(table) {
        for (const part of [table, ...table.querySelectorAll("*")])
          if (roles[part.tagName] && part.rows?.length !== 0) part.setAttribute("role", roles[part.tagName]);
        const heads = [...table.querySelectorAll("thead th")].flatMap((head) => Array(head.colSpan).fill(words(head)));
        for (const row of table.querySelectorAll("tbody tr, tfoot tr")) {
          let at = 0;
          for (const cell of row.cells) {
            cell.dataset.label = heads[at] ?? "";
            cell.toggleAttribute("data-empty", !cell.textContent.trim() && !cell.querySelector("input, select, button, a, svg, img"));
            at += cell.colSpan;
          }
        }
      }
    },
  );
})();
