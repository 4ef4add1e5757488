// What a word of the workshop may stand for, to choose from.

import { KINDS } from '../../trade/record/kinds.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import { QUANTITIES } from '../../trade/ground/units.ts'
import { CONDITIONS } from '../../trade/engine/vocabulary.ts'
import { say } from '../frame/say.ts'

export interface Meaning {
  sort: string
  /** As a person chooses it. */
  words: string
  of: { value: string; words: string }[]
}

const dispositions = (KINDS['finding_made']?.fields['disposition'] as { of?: Record<string, string> } | undefined)?.of ?? {}

export const MEANINGS: Meaning[] = [
  { sort: '', words: say('spoken.means_itself'), of: [] },
  { sort: 'part', words: say('spoken.means_part'), of: Object.values(PARTS).map(({ code, name }) => ({ value: code, words: name })) },
  { sort: 'condition', words: say('spoken.means_condition'), of: CONDITIONS.map((word) => ({ value: word, words: word })) },
  { sort: 'quantity', words: say('spoken.means_quantity'), of: QUANTITIES.map(({ code, words }) => ({ value: code, words })) },
  {
    sort: 'disposition',
    words: say('spoken.means_disposition'),
    of: Object.entries(dispositions)
      .filter(([code]) => code)
      .map(([value, words]) => ({ value, words })),
  },
]

/** "part:bore" -> ["part", "bore"]; "" -> ["", ""] */
export function separated(means: string): [sort: string, code: string] {
  const at = means.indexOf(':')
  return at < 0 ? ['', ''] : [means.slice(0, at), means.slice(at + 1)]
}

/** "a part: gudgeon pin"; '' when it stands for itself only. */
export function meansWords(means: string): string {
  const [sort, code] = separated(means)
  const meaning = MEANINGS.find((choice) => choice.sort === sort)
  if (!sort || !meaning) return code
  return say('spoken.meaning', { sort: meaning.words, words: meaning.of.find(({ value }) => value === code)?.words ?? code })
}
