// Text that is cut off, that lies over other text, or that reaches beyond the window. Runs in the browser, so it is one function.

/** What is wrong with the words on the page as it stands, a line each. */
export function textTrouble(): string[] {
  const MOST_PX = 1.5;
  /** Beside the text of a choice. */
  const ARROW_PX = 20;
  const trouble = new Set<string>();
  const told = (node: Node) => (node.textContent ?? "").trim().replace(/\s+/g, " ").slice(0, 60);
  /** Shown to those who listen only. */
  const isForListening = (element: Element) =>
    element.closest(".spoken, .skip, [aria-hidden='true'] canvas") !== null;
  const rects: { text: string; box: DOMRect; element: Element }[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const element = node.parentElement;
    if (element === null || told(node) === "" || isForListening(element)) continue;
    if (!element.checkVisibility({ visibilityProperty: true })) continue;
    if (element.closest("option, noscript, style, title") !== null) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) {
      if (box.width < 1 || box.height < 1) continue;
      let clipped = false;
      for (let above: Element | null = element; above !== null; above = above.parentElement) {
        const style = getComputedStyle(above);
        if (style.clipPath !== "none") clipped = true;
        if (style.overflowX === "visible" && style.overflowY === "visible") continue;
        if (above === document.documentElement || above === document.body) continue;
        const frame = above.getBoundingClientRect();
        const scrolls = style.overflowY === "auto" || style.overflowY === "scroll";
        const over = Math.max(
          box.right - frame.right,
          frame.left - box.left,
          scrolls ? 0 : box.bottom - frame.bottom,
        );
        if (over > MOST_PX && !clipped)
          trouble.add(`cut: "${told(node)}" by ${over.toFixed(0)} px`);
      }
      if (clipped) continue;
      if (box.right > document.documentElement.clientWidth + MOST_PX || box.left < -MOST_PX) {
        trouble.add(`beyond the window: "${told(node)}"`);
      }
      rects.push({ text: told(node), box, element });
    }
  }
  const isFloating = (element: Element) => {
    for (let above: Element | null = element; above !== null; above = above.parentElement) {
      const { position } = getComputedStyle(above);
      if (position === "fixed" || position === "sticky") return true;
    }
    return false;
  };
  const still = rects
    .filter(({ element }) => !isFloating(element))
    .sort((a, b) => a.box.top - b.box.top);
  still.forEach((one, i) => {
    for (let j = i + 1; j < still.length; j++) {
      const other = still[j] as (typeof still)[number];
      if (other.box.top > one.box.bottom) break;
      const acrossPx =
        Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
      const downPx =
        Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
      // Lines of one paragraph may touch; letters do not before a third of a line lies over the other.
      const line = Math.min(one.box.height, other.box.height);
      if (acrossPx > MOST_PX && downPx > Math.max(2 * MOST_PX, line / 3)) {
        trouble.add(`over each other: "${one.text}" and "${other.text}"`);
      }
    }
  });
  // What is typed into a line can be gone through with the caret; what is chosen cannot.
  const measure = document.createElement("canvas").getContext("2d");
  for (const field of document.querySelectorAll("select")) {
    if (measure === null || !field.checkVisibility({ visibilityProperty: true })) continue;
    const style = getComputedStyle(field);
    const text = field.selectedOptions[0]?.text ?? "";
    measure.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
    const padding = Number.parseFloat(style.paddingLeft) + Number.parseFloat(style.paddingRight);
    const room = field.clientWidth - padding - ARROW_PX;
    const over = measure.measureText(text).width - room;
    // One that breaks its lines grows with its text instead.
    const breaks = style.appearance === "base-select" && style.whiteSpace === "normal";
    const isCut = breaks ? field.scrollWidth > field.clientWidth : over > MOST_PX;
    if (isCut) trouble.add(`cut in its field: "${text.slice(0, 60)}" by ${over.toFixed(0)} px`);
  }
  for (const button of document.querySelectorAll<HTMLElement>("button, a.button")) {
    if (!button.checkVisibility()) continue;
    const over = Math.max(
      button.scrollWidth - button.clientWidth,
      button.scrollHeight - button.clientHeight,
    );
    if (over > 2 * MOST_PX) trouble.add(`beyond its button: "${told(button)}"`);
  }
  return [...trouble];
}
