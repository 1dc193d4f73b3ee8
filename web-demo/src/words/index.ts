// The words in use. Another language is another file of the same shape, chosen here.

export { english as words } from "./english.js";
