import type { SheetHost } from "../host/SheetHost.ts";

/** Changes come in bursts: what follows each other within this time is one, ms. */
const BURST = 120;

/** Calls when the workbook has changed and rests a moment; returns how to stop. */
export function onQuietChange(host: Pick<SheetHost, "onChange">, changed: () => void): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const stop = host.onChange(() => {
    clearTimeout(timer);
    timer = setTimeout(changed, BURST);
  });
  return () => {
    clearTimeout(timer);
    stop();
  };
}
