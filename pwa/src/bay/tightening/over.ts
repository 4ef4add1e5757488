/** What lies over the drawing. */
export type Over = '' | 'tool' | 'departures' | 'so far' | 'sheet' | 'undo' | { fastener: string }
