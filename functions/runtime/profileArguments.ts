import { InputError } from "../../src/errors.ts";
import { loadProfile, type LoadProfile } from "../../src/sessions/loadProfile.ts";
import { dropHeightProfile, type DropHeightProfile } from "../../src/statistics/dropHeightProfile.ts";
import { isGiven, numberFrom, optionalNumber, rowsFrom, singleFrom } from "./cells.ts";

/** The profile over drop heights that ranges with one cell a height give; rows without anything are left out. */
export function dropProfileFrom(heights: unknown, rsi: unknown, contactTimes: unknown, typicalError: unknown, counts: unknown, jumpHeights: unknown, fastContact: unknown, level: unknown, degreesOfFreedom?: unknown, measuredHeights?: unknown): DropHeightProfile {
  const [nominal, index, contact, count, jump, measured] = [heights, rsi, contactTimes, counts, jumpHeights, measuredHeights].map((range) => rowsFrom(range).flat());
  if (index.length !== nominal.length || contact.length !== nominal.length || [count, jump, measured].some((column) => column.length > 0 && column.length !== nominal.length)) {
    throw new InputError("wrong-shape", "drop profile requires ranges with one cell for each drop height");
  }
  const points = nominal.flatMap((height, i) => {
    if (!isGiven(height) && !isGiven(index[i]) && !isGiven(contact[i])) return [];
    return [
      {
        nominalHeight: numberFrom(height, "drop profile: height"),
        rsi: numberFrom(index[i], "drop profile: index"),
        contactTime: numberFrom(contact[i], "drop profile: contact time"),
        count: optionalNumber(count[i], "drop profile: count", undefined),
        height: optionalNumber(jump[i], "drop profile: jump height", undefined),
        measuredHeight: optionalNumber(measured[i], "drop profile: real drop", undefined),
      },
    ];
  });
  return dropHeightProfile(points, {
    typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
    degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
    fastContact: optionalNumber(singleFrom(fastContact, "fast contact"), "fast contact", undefined),
    level: optionalNumber(singleFrom(level, "level"), "level", undefined),
  });
}

/** The force-velocity line that loads and heights give. A load of 0 is a value; a row is blank where its height is. */
export function loadProfileFrom(loads: unknown, heights: unknown, mass: unknown, pushOff: unknown, level: unknown, g: unknown): LoadProfile {
  const [load, height] = [rowsFrom(loads).flat(), rowsFrom(heights).flat()];
  if (load.length !== height.length) throw new InputError("wrong-shape", "load profile requires one height for each load");
  const filled = height.flatMap((value, i) => (isGiven(value) ? [i] : []));
  return loadProfile(
    filled.map((i) => (isGiven(load[i]) ? numberFrom(load[i], "load profile: load") : 0)),
    filled.map((i) => numberFrom(height[i], "load profile: height")),
    numberFrom(singleFrom(mass, "body mass"), "body mass"),
    numberFrom(singleFrom(pushOff, "push-off distance"), "push-off distance"),
    optionalNumber(singleFrom(g, "gravity"), "gravity", undefined),
    optionalNumber(singleFrom(level, "level"), "level", undefined),
  );
}
