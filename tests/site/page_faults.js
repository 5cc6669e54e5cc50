// What a page may be found at fault in, asked of it in a browser: an object of questions, each answered by a list.
({
  /** Whatever can be tapped or typed into, and is to be seen. */
  targets() {
    const asked = "a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button], [tabindex='0']";
    return [...document.querySelectorAll(asked)].filter((one) => {
      const box = (one.labels?.[0] ?? one).getBoundingClientRect();
      const shown = (one.labels?.[0] ?? one).checkVisibility({ visibilityProperty: true, opacityProperty: true });
      return shown && box.width > 1 && box.right > 0 && box.bottom + scrollY > 0;
    });
  },

  /** Tap targets lower than 48 px that are not links in running text, nor a heading's link to itself. */
  smallTargets() {
    const faults = [];
    for (const one of this.targets()) {
      if (one.hash && one.closest(`[id="${one.hash.slice(1)}"]`)) continue;
      let inRunningText = false;
      if (one.tagName === "A" && getComputedStyle(one).display === "inline") {
        let block = one.parentElement;
        while (block && getComputedStyle(block).display === "inline") block = block.parentElement;
        const links = [...block.querySelectorAll("a")].map((link) => link.textContent.trim()).join("").length;
        inRunningText = block.textContent.replace(/\s+/g, "").length > links;
      }
      const heights = [one, ...(one.labels ?? [])].map((it) => it.getBoundingClientRect().height);
      if (!inRunningText && Math.max(...heights) < 47.9)
        faults.push(`${Math.max(...heights).toFixed(0)} px: ${this.told(one)}`);
    }
    return faults;
  },

  /** What reaches beyond the right edge, where the page can be moved sideways. */
  sideways() {
    if (document.documentElement.scrollWidth <= innerWidth) return [];
    const wide = [...document.body.querySelectorAll("*")].filter(
      (one) => one.getBoundingClientRect().right > innerWidth + 0.5,
    );
    return [`${document.documentElement.scrollWidth} px wide in ${innerWidth}`, ...wide.slice(0, 5).map(this.told)];
  },

  /** What can be tapped and lies over another, at the top and at the end of the page. */
  overlaps() {
    const faults = new Set();
    for (const top of [0, document.documentElement.scrollHeight]) {
      scrollTo({ top, behavior: "instant" });
      const boxes = this.targets().flatMap((one) =>
        [...(one.labels?.[0] ?? one).getClientRects()].map((box) => ({ one, box })),
      );
      for (const [at, { one, box }] of boxes.entries()) {
        for (const { one: other, box: its } of boxes.slice(at + 1)) {
          const wide = Math.min(box.right, its.right) - Math.max(box.left, its.left);
          const high = Math.min(box.bottom, its.bottom) - Math.max(box.top, its.top);
          const nested =
            one.contains(other) ||
            other.contains(one) ||
            (one.closest("label") && one.closest("label") === other.closest("label"));
          if (wide > 2 && high > 2 && !nested) faults.add(`${this.told(one)} and ${this.told(other)}`);
        }
      }
    }
    scrollTo({ top: 0, behavior: "instant" });
    return [...faults].slice(0, 5);
  },

  /** What looks the same with the keyboard's focus as without it. A key was pressed before. */
  unseenFocus() {
    const look = (/** @type {Element} */ one) =>
      [one, one.closest("label"), one.labels?.[0], one.nextElementSibling]
        .map((it) => {
          if (!it) return "";
          const { outline, boxShadow, backgroundColor, borderColor, textDecoration } = getComputedStyle(it);
          return [outline, boxShadow, backgroundColor, borderColor, textDecoration].join();
        })
        .join(";");
    const faults = [];
    for (const one of this.targets().slice(0, 60)) {
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
      const before = look(one);
      one.focus({ preventScroll: true });
      if (document.activeElement === one && look(one) === before) faults.push(this.told(one));
    }
    return faults;
  },

  /** Elements of a kind that are not to be seen. @param {string} which */
  unseen(which) {
    return [...document.querySelectorAll(which)]
      .filter(
        (one) =>
          one.textContent.trim() && !one.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true }),
      )
      .map(this.told);
  },

  /** @param {Element} one */
  told(one) {
    return one.cloneNode(false).outerHTML.slice(0, 120) + one.textContent.trim().slice(0, 40);
  },
});
