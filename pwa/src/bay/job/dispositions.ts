// What is to be done with a part in that condition: the words of the record, as they are offered and shown.
import { KINDS } from '../../trade/record/kinds.ts'

const OF = (KINDS['finding_made']!.fields['disposition']?.of ?? {}) as Record<string, string>

export const DISPOSITIONS = Object.entries(OF)
  .filter(([value]) => value !== '')
  .map(([value, words]) => ({ value, words }))

export const dispositionWords = (code: string): string => OF[code] ?? code
