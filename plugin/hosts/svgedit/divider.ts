/** The bar between drawing and panel: drawn with the pointer, moved with the arrow keys. */
const LEAST_PX = 320;
const STEP_PX = 24;
/** What is left for the drawing. */
const LEAST_DRAWING_PX = 360;

export function startDivider(divider: HTMLElement, panel: HTMLElement): void {
  const most = (): number => Math.max(LEAST_PX, window.innerWidth - LEAST_DRAWING_PX);
  const setWidth = (px: number): void => {
    const width = Math.round(Math.min(most(), Math.max(LEAST_PX, px)));
    panel.style.width = `${width}px`;
    divider.setAttribute("aria-valuenow", String(width));
    divider.setAttribute("aria-valuemin", String(LEAST_PX));
    divider.setAttribute("aria-valuemax", String(most()));
    // The editor lays its rulers and canvas out anew.
    window.dispatchEvent(new Event("resize"));
  };
  divider.addEventListener("pointerdown", (event) => {
    divider.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  divider.addEventListener("pointermove", (event) => {
    if (divider.hasPointerCapture(event.pointerId)) setWidth(window.innerWidth - event.clientX);
  });
  divider.addEventListener("keydown", (event) => {
    const direction = { ArrowLeft: 1, ArrowRight: -1 }[event.key];
    if (direction === undefined) return;
    event.preventDefault();
    setWidth(panel.offsetWidth + direction * STEP_PX);
  });
  setWidth(panel.offsetWidth);
}
