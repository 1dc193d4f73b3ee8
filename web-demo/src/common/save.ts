/** Hands a text to the device as a file. */
export function save(text: string, name: string, type: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: `${type};charset=utf-8` }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The download has begun by the next task; the text need not be held longer.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
