/** How many patterns there are; see patterns.css. */
export const patterns = 8;

/** patternOf is the pattern of a bench's number: 1 to 8, the ninth bench takes the first again. */
export const patternOf = (number: number): number => ((((number - 1) % patterns) + patterns) % patterns) + 1;
