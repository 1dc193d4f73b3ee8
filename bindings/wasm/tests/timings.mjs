// Times the engine on a case, in Node and in a page alike: milliseconds, the least of several runs.

export async function timings(engine, text) {
  const least = async (work) => {
    await work();
    let found = Infinity;
    for (let run = 0; run < 7; run += 1) {
      const start = performance.now();
      await work();
      found = Math.min(found, performance.now() - start);
    }
    return found;
  };
  return {
    assess: await least(() => engine.assess(text)),
    explain: await least(() => engine.explain(text)),
    next: await least(() => engine.next(text)),
    lean: await least(() => engine.lean(text)),
    "10,000 draws": await least(() => engine.study(text, { draws: 10_000, pairs: 0 })),
  };
}
