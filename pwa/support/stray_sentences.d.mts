/** Words for people that stand in a file's code. */
export function strays(path: string, source?: string): { line: number; text: string }[]
/** The TypeScript files of a folder, tests left out. */
export function files(folder: string): string[]
