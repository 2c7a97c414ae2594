const NARROWEST = 300;
const STEP = 20;
const REMEMBERED = "leapsheet-pane-width";

/** Lets the person set the width of the pane, with the pointer or with the arrow keys; the browser remembers it. */
export function installDivider(divider: HTMLElement, pane: HTMLElement): void {
  const set = (width: number) => {
    const fitting = Math.round(Math.min(Math.max(width, NARROWEST), Math.max(NARROWEST, innerWidth - 320)));
    document.documentElement.style.setProperty("--pane-width", `${fitting}px`);
    divider.setAttribute("aria-valuenow", String(fitting));
    divider.setAttribute("aria-valuemin", String(NARROWEST));
    try {
      localStorage.setItem(REMEMBERED, String(fitting));
    } catch {
      // A browser that keeps nothing: the width holds until the page closes.
    }
  };
  try {
    const width = Number(localStorage.getItem(REMEMBERED));
    if (width > 0) set(width);
  } catch {
    // As above.
  }
  divider.addEventListener("pointerdown", (event) => {
    divider.setPointerCapture(event.pointerId);
    const move = (moved: PointerEvent) => set(innerWidth - moved.clientX);
    divider.addEventListener("pointermove", move);
    divider.addEventListener("pointerup", () => divider.removeEventListener("pointermove", move), { once: true });
  });
  divider.addEventListener("keydown", (event) => {
    const by = { ArrowLeft: STEP, ArrowRight: -STEP }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    set(pane.getBoundingClientRect().width + by);
  });
}
