/** Local day of an instant (now by default), as an ISO date. */
export function today(milliseconds: number = Date.now()): string {
  const date = new Date(milliseconds);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
