// Where one is, as the address says it: #/case/ID/odds.

/** The pages about a piece. */
export const VIEWS = ["piece", "odds", "argument", "stories", "next", "what-if", "price", "write-up"] as const;
export type View = (typeof VIEWS)[number];

export type Route =
  | { at: "shelf" }
  | { at: "new"; form: string | undefined }
  | { at: "link"; letters: string }
  | { at: "case"; id: string; view: View; part: string | undefined }
  | { at: "lessons" }
  | { at: "lesson"; id: string }
  | { at: "practice" }
  | { at: "about" };

/** Reads an address's fragment; what is not understood leads to the shelf. */
export function readRoute(fragment: string): Route {
  const text = fragment.replace(/^#/, "");
  if (text.startsWith("case=")) return { at: "link", letters: text.slice(5) };
  const [, first, second, third, fourth] = text.split("/").map((word) => {
    try {
      return decodeURIComponent(word);
    } catch {
      return word;
    }
  });
  switch (first) {
    case "new":
      return { at: "new", form: second };
    case "case": {
      if (second === undefined || second === "") return { at: "shelf" };
      const view = VIEWS.find((known) => known === third) ?? "piece";
      return { at: "case", id: second, view, part: fourth };
    }
    case "lessons":
      return second === undefined ? { at: "lessons" } : { at: "lesson", id: second };
    case "practice":
      return { at: "practice" };
    case "about":
      return { at: "about" };
    default:
      return { at: "shelf" };
  }
}

/** Where a view of a case is. */
export function caseAddress(id: string, view: View = "piece", part?: string): string {
  const whole = `#/case/${encodeURIComponent(id)}/${view}`;
  return part === undefined ? whole : `${whole}/${encodeURIComponent(part)}`;
}

class Place {
  route = $state.raw<Route>(readRoute(globalThis.location?.hash ?? ""));

  constructor() {
    globalThis.addEventListener?.("hashchange", () => {
      this.route = readRoute(location.hash);
    });
  }

  go(address: string, how: "push" | "replace" = "push"): void {
    if (how === "replace") {
      history.replaceState(undefined, "", address);
      this.route = readRoute(address);
    } else {
      location.hash = address;
    }
  }
}

export const place = new Place();
