// Figures that the second worker computes, one at a time and only while they are
// looked at, and that are kept by what they stand on.

// asker keeps up to most answers. ask() resolves to the answer for the view as it
// is now, null where that is to be asked again.
export function asker(api, ask, most = 60) {
  const kept = new Map();
  let under = false; // one is under way
  let failed = { key: "", why: "" };

  async function begin(key, view) {
    under = true;
    try {
      const got = await ask(view);
      kept.set(key, got);
      if (kept.size > most) kept.delete(kept.keys().next().value);
    } catch (error) {
      failed = { key, why: error.message };
    }
    under = false;
    api.refresh();
  }

  return {
    // want gives the answer of a key, null until it is there. The view was read
    // from the session in this very task, so that the two agree.
    want(key, view) {
      if (kept.has(key)) return kept.get(key);
      if (!under && failed.key !== key && view.ready) begin(key, view);
      return null;
    },
    // why says what went wrong with a key, "" for nothing.
    why: (key) => (failed.key === key ? failed.why : ""),
  };
}
