/** The day on this device, as a case writes it. */
export function today(): string {
  const day = new Date();
  const two = (value: number) => String(value).padStart(2, "0");
  return `${String(day.getFullYear())}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
