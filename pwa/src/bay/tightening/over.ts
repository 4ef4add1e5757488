/** What lies over the drawing. */
export type Over = '' | 'tool' | 'deviations' | 'progress' | 'sheet' | 'undo' | { fastener: string }
