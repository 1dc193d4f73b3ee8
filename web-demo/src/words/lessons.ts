// The lessons' words in use, apart from the rest: they are fetched with the first lesson.

export { lessonWords } from "./english-lessons.js";
