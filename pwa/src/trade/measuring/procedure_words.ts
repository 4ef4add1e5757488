// Procedures, their figures and sizes in words; one of the workshop's own is called by its code, since its name may have changed.

import { say } from '../ground/say.ts'
import { BUILT_IN } from './procedures.ts'

type What = Record<string, any>

/** A procedure's name as it comes with the program, or its code in plain words. */
export function procedureName(code: string): string {
  if (Object.hasOwn(BUILT_IN, code)) return BUILT_IN[code]!.name
  const words = spaced(code.startsWith('own_') ? code.slice(4) : code)
  return words.slice(0, 1).toUpperCase() + words.slice(1).toLowerCase()
}

/** "Cylinder bore, ovality": the procedure, and the words of its figure or size. */
export function subject(what: What, names: 'figures' | 'sizes', field: string): string {
  const code = what[field] as string
  const lines = Object.hasOwn(BUILT_IN, what['procedure']) ? BUILT_IN[what['procedure']]![names] : []
  const words = (lines as { code: string; words: string }[]).find((line) => line.code === code)?.words ?? spaced(code)
  return say('measuring.subject', { procedure: procedureName(what['procedure']), subject: words })
}

function spaced(code: string): string {
  return code.replaceAll('_', ' ')
}
