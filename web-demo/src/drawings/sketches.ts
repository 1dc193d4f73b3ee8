// All sketches in one piece, fetched with the first that is looked at.

export const sketches = import.meta.glob<string>("./signs/*.svg", { query: "?raw", import: "default", eager: true });
