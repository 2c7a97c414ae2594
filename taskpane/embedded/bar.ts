import { inLanguage } from "../../src/wording/inLanguage.ts";

/** A strip above the sheet that says something the person must know, with what can be done about it. */
export interface Notice {
  close(): void;
}

export interface NoticeAction {
  readonly label: string;
  readonly run: () => void;
}

/** Shows a strip, in the language that is spoken; one with the same `id` is replaced. `onClose`: where the person closes it. */
export function showNotice(id: string, text: string, actions: readonly NoticeAction[] = [], onClose: () => void = () => {}): Notice {
  document.getElementById(id)?.remove();
  const strip = element("div", { id, className: "notice" });
  strip.setAttribute("role", "alert");
  strip.append(
    element("p", { textContent: inLanguage(text) }),
    ...actions.map(({ label, run }) => button(label, run)),
    button("Close", () => {
      strip.remove();
      onClose();
    }),
  );
  document.getElementById("workspace")!.before(strip);
  return { close: () => strip.remove() };
}

export interface BarActions {
  readonly startNew: () => void;
  readonly openFile: (file: File) => void;
  readonly download: () => void;
}

/** The bar at the top: what is open, whether it is saved, and the three things to do with a whole workbook. */
export function installBar(actions: BarActions): { status(text: string): void } {
  const bar = element("header", { id: "bar" });
  const status = element("span", { id: "save-state" });
  status.setAttribute("role", "status");
  const chooser = element("input", { type: "file", accept: ".json,.xlsx,application/json", hidden: true });
  chooser.setAttribute("aria-label", inLanguage("Workbook file"));
  chooser.addEventListener("change", () => {
    const file = chooser.files?.[0];
    chooser.value = "";
    if (file) actions.openFile(file);
  });
  bar.append(
    element("h1", { textContent: "Leapsheet" }),
    status,
    element("span", { className: "space" }),
    button("New workbook", actions.startNew),
    button("Open…", () => chooser.click()),
    Object.assign(button("Download a copy", actions.download), { title: inLanguage("One file with everything in this workbook: names, traces, results and settings") }),
    chooser,
  );
  document.body.prepend(bar);
  return { status: (text) => void (status.textContent = inLanguage(text)) };
}

function button(label: string, run: () => void): HTMLButtonElement {
  const made = element("button", { type: "button", textContent: inLanguage(label) });
  made.addEventListener("click", run);
  return made;
}

function element<Tag extends keyof HTMLElementTagNameMap>(tag: Tag, properties: Partial<HTMLElementTagNameMap[Tag]>): HTMLElementTagNameMap[Tag] {
  return Object.assign(document.createElement(tag), properties);
}
