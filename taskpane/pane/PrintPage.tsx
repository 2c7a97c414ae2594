import { useEffect, useRef, type ReactNode } from "react";
import { createPortal } from "react-dom";
import { saveFile } from "./teach/saveFile.ts";

/** Only the printed page goes to the printer, and only there it is seen. */
const PRINT_ONLY = `
#leapsheet-print { display: none; }
@media print {
  html, body { height: auto !important; overflow: visible !important; display: block !important; background: #fff !important; }
  body > *:not(#leapsheet-print) { display: none !important; }
  #leapsheet-print { display: block; }
}`;

export interface PrintPageProps {
  readonly title: string;
  /** Look of the page; its selectors begin with `#leapsheet-print`. */
  readonly style: string;
  /** To the printer, or as a page that any browser opens and prints. */
  readonly to: "printer" | "file";
  readonly fileName: string;
  readonly onDone: () => void;
  readonly children: ReactNode;
}

/** A page beside the pane that is printed, or saved, as soon as it stands. */
export function PrintPage({ title, style, to, fileName, onDone, children }: PrintPageProps): ReactNode {
  const page = useRef<HTMLDivElement>(null);
  const done = useRef(onDone);
  done.current = onDone;
  useEffect(() => {
    const finish = (): void => done.current();
    if (to === "file") {
      saveFile(fileName, new TextEncoder().encode(pageText(title, style, page.current!.innerHTML)), "text/html");
      finish();
      return undefined;
    }
    // Some browsers come back from printing before they have taken the page.
    window.addEventListener("afterprint", finish, { once: true });
    // A picture that is not decoded yet would be a blank on paper.
    const pictures = [...page.current!.querySelectorAll("img")].map((picture) => picture.decode().catch(() => undefined));
    if (pictures.length === 0) window.print();
    else void Promise.all(pictures).then(() => window.print());
    return () => window.removeEventListener("afterprint", finish);
  }, [title, style, to, fileName]);
  return createPortal(
    <>
      <div id="leapsheet-print" ref={page} lang="en">
        {children}
      </div>
      <style>{PRINT_ONLY + style}</style>
    </>,
    document.body,
  );
}

/** A whole page of its own; `html` was made by the browser from elements, so its texts are escaped. */
function pageText(title: string, style: string, html: string): string {
  const safe = title.replace(/[<>&]/g, (sign) => `&#${sign.charCodeAt(0)};`);
  return `<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>${safe}</title><style>body { margin: 14mm; } @media print { body { margin: 0; } }${style}</style></head><body><main id="leapsheet-print">${html}</main></body></html>\n`;
}
