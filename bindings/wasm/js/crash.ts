// What the engine says of its own crash, on the way down: the instance cannot be asked afterwards.

let noted: string | undefined;

/** Called by the module when it panics. */
export function noteCrash(message: string): void {
  noted = message;
}

/** What was said of the last crash, once. */
export function takeCrash(): string | undefined {
  const message = noted;
  noted = undefined;
  return message;
}
