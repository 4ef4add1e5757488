// What is to be done with a part that was found so: the words of the record, as they are offered and as they are said back.
import { KINDS } from '../../trade/record/kinds.ts'

const OF = (KINDS['finding_made']!.fields['disposition']?.of ?? {}) as Record<string, string>

export const DISPOSITIONS = Object.entries(OF)
  .filter(([value]) => value !== '')
  .map(([value, words]) => ({ value, words }))

export const dispositionWords = (code: string): string => OF[code] ?? code
