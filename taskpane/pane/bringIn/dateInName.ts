/**
 * The date that a file name holds, as `2026-03-14`: year first (with or without separators), or day first with a four-digit year.
 *
 * @returns Blank where there is no date, or the name can be read in more than one way.
 */
export function dateInName(name: string): string {
  const yearFirst = /(?<!\d)(20\d\d)([-_. ]?)(0[1-9]|1[0-2])\2(0[1-9]|[12]\d|3[01])(?!\d)/.exec(name);
  if (yearFirst !== null) return existing(yearFirst[1], yearFirst[3], yearFirst[4]);
  const dayFirst = /(?<!\d)(\d{1,2})([-_. ])(\d{1,2})\2(20\d\d)(?!\d)/.exec(name);
  if (dayFirst === null) return "";
  const [one, two] = [Number(dayFirst[1]), Number(dayFirst[3])];
  // 03.04.2026 may be either: only a day above twelve, or a point between (day first by custom), decides.
  if (one > 12 || dayFirst[2] === ".") return existing(dayFirst[4], dayFirst[3], dayFirst[1]);
  return two > 12 ? existing(dayFirst[4], dayFirst[1], dayFirst[3]) : "";
}

function existing(year: string, month: string, day: string): string {
  const date = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  const right = date.getUTCMonth() === Number(month) - 1 && date.getUTCDate() === Number(day);
  return right ? date.toISOString().slice(0, 10) : "";
}
