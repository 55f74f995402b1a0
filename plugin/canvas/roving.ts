/**
 * One stop of the Tab key for a whole group of marks: as the ARIA Authoring Practices have it ("roving tabindex"),
 * one of them is in the page's order of focus, and keys go from one to the next. Arrow keys move a mark, so that
 * Page Up, Page Down, Home and End do this. Their order is that of their `data-stop`, a number.
 */
export function rove(group: Element, marks: string): void {
  const all = (): SVGElement[] =>
    [...group.querySelectorAll<SVGElement>(marks)].sort(
      (a, b) => Number(a.dataset.stop) - Number(b.dataset.stop),
    );
  const makeStop = (stop: SVGElement): void => {
    for (const mark of all()) mark.setAttribute("tabindex", mark === stop ? "0" : "-1");
  };
  group.addEventListener("focusin", (event) => {
    const mark = (event.target as Element).closest<SVGElement>(marks);
    if (mark !== null) makeStop(mark);
  });
  group.addEventListener("keydown", (event) => {
    const { key } = event as KeyboardEvent;
    const list = all();
    const now = list.indexOf(document.activeElement as SVGElement);
    const places: Readonly<Record<string, number>> = {
      PageUp: now - 1,
      PageDown: now + 1,
      Home: 0,
      End: list.length - 1,
    };
    const next = list[places[key] ?? -1];
    if (now < 0 || next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    // What is out of sight cannot have the focus.
    next.classList.remove("away");
    next.focus();
  });
  new MutationObserver(() => {
    const list = all();
    if (list.length > 0 && !list.some((mark) => mark.getAttribute("tabindex") === "0")) makeStop(list[0]);
  }).observe(group, { childList: true });
}
