import type { lessons } from './en/desk/lessons';
import { section } from './section';

/** lessonTexts are the texts of the lessons that are ready, and of the sheets after an afternoon. */
export let lessonTexts: typeof lessons;

section('lessons', (of) => (lessonTexts = of.lessons));
