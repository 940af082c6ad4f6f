/** waiting is how much waits for a decision in the meet on show: it stands in the title of the tab. */
export const waiting = $state({ decisions: 0 });

/** titled is a page's title with that number before it. */
export const titled = (title: string): string => (waiting.decisions > 0 ? `(${waiting.decisions}) ${title}` : title);
