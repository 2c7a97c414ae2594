import { TestRunner } from "vitest";

/** Thousands of simulated people: too long for each of two thousand changes. What they would notice besides is not counted. */
const SLOW = /in about 5 of 100|covers the true|stated rate|95 of 100|about 95|false-positive rate|many (simulated )?people/;

interface Task {
  readonly name: string;
  mode: string;
  readonly tasks?: Task[];
}

/** Runs all but the simulations. */
export default class QuickRunner extends TestRunner {
  onCollected(files: Task[]): void {
    pass(files);
  }
}

function pass(tasks: readonly Task[]): void {
  for (const task of tasks) {
    if (SLOW.test(task.name) && task.tasks === undefined) task.mode = "skip";
    pass(task.tasks ?? []);
  }
}
