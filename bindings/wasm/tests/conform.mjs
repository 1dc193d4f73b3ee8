// Holds the engine's answers against native ones, bit for bit; runs in Node and in a page alike.

/** Where two plain values differ in any bit, or nothing. */
function difference(have, want, path) {
  if (typeof want === "object" && want !== null && typeof have === "object" && have !== null) {
    const keys = Object.keys(want);
    if (Array.isArray(want) !== Array.isArray(have)) return `${path}: a list is none`;
    if (Object.keys(have).length !== keys.length) return `${path}: ${Object.keys(have)} instead of ${keys}`;
    for (const key of keys) {
      const found = difference(have[key], want[key], `${path}.${key}`);
      if (found !== undefined) return found;
    }
    return undefined;
  }
  return Object.is(have, want) ? undefined : `${path}: ${have} instead of ${want}`;
}

/** Asks everything; gives back what differs. */
export async function conform(engine, asked) {
  const faults = [];
  let pairs = 0;
  for (const { ask, of, options, answer, refused } of asked) {
    pairs += 1;
    let have;
    try {
      have = await engine[ask](of, options ?? {});
    } catch (error) {
      if (refused === undefined) faults.push(`${ask}: ${error.code}: ${error.message}`);
      else {
        const found = difference({ code: error.code, message: error.message }, refused, ask);
        if (found !== undefined) faults.push(found);
      }
      continue;
    }
    if (refused !== undefined) faults.push(`${ask}: not refused (${refused.code})`);
    else {
      const found = difference(have, answer, ask);
      if (found !== undefined) faults.push(found);
    }
  }
  return { pairs, faults };
}
