import type { Step } from "../../src/protocols/Analysis.ts";

/**
 * The steps that lead to a value, each after those it stands on; the last one gives the value.
 *
 * @param steps All steps of an analysis, in the order in which they were recorded.
 * @param ids What is to be explained: a metric, or several for a form made of them.
 */
export function collectSteps(steps: readonly Step[], ids: readonly string[]): readonly Step[] {
  const byName = new Map<string, Step>();
  for (const step of steps) byName.set(step.gives, step);
  const collected: Step[] = [];
  const visited = new Set<string>();
  const visit = (name: string): void => {
    if (visited.has(name)) return;
    visited.add(name);
    const step = byName.get(name);
    if (step === undefined) return;
    for (const input of step.inputs) if (input.from !== undefined) visit(input.from);
    collected.push(step);
  };
  for (const id of ids) visit(id);
  return collected;
}
