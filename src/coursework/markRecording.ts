import type { RecordingMark, StudentKey } from "./Coursework.ts";

/**
 * Whether the recording in a returned workbook is the one that was handed out.
 *
 * @param returned Hash of the recording that came back, see `recordingHash`; absent where the workbook has none.
 * @param own The key of this student.
 * @param all The keys of the whole group, to find whose recording it is instead.
 * @returns What was found, no unit; `undefined` where the key keeps no hash, as those of earlier versions.
 */
export function markRecording(returned: string | undefined, own: StudentKey, all: readonly StudentKey[]): RecordingMark | undefined {
  if (own.recording === undefined) return undefined;
  if (returned === undefined) return { outcome: "missing" };
  if (returned === own.recording) return { outcome: "own" };
  const other = all.find((key) => key.student !== own.student && key.recording === returned);
  return other === undefined ? { outcome: "differs" } : { outcome: "of another", of: other.student };
}
