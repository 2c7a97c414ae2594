import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What axe-core finds in a part of the page, once nothing moves or fades there any more: a colour half-way through a change is no colour a person reads. */
export async function axeViolations(page: Page, part: string): Promise<readonly string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async (context) => {
    const ending = document.getAnimations().filter((animation) => Number.isFinite(animation.effect?.getComputedTiming().endTime as number));
    await Promise.race([Promise.allSettled(ending.map((animation) => animation.finished)), new Promise((resolve) => setTimeout(resolve, 3000))]);
    const { axe } = window as unknown as { axe: { run(context: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } };
    const found = await axe.run(context);
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 160)).join(" | ")}`);
  }, part);
}
