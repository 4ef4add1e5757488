// Where a limit or size counts, in plain words and in the patterns that are written down.

import { placeName } from '../../../trade/engine/locations.ts'
import { type EngineType, PARTS } from '../../../trade/engine/parts.ts'

/** What can be chosen from for a part: everywhere, one side, or some places of it. */
export function choices(part: string): { value: string; words: string }[] {
  const per = PARTS[part]?.per
  const all = { value: '', words: 'all of them' }
  const some = { value: 'some', words: 'some places only' }
  if (per === 'valve' || per === 'lobe') {
    return [
      all,
      { value: 'inlet', words: 'inlet only' },
      { value: 'exhaust', words: 'exhaust only' },
      some,
    ]
  }
  return per === 'once' || per === 'whole' ? [all] : [all, some]
}

/** Which of the choices a list of patterns stands for. */
export function chosen(part: string, patterns: string[]): string {
  if (!patterns.length) return ''
  const side = patterns.length === 1 && /^[a-z_]+\/\*\/(inlet|exhaust)$/.exec(patterns[0]!)?.[1]
  return side && patterns[0]!.startsWith(`${part}/`) ? side : 'some'
}

/** The patterns of a choice; `places` are the codes that were ticked for "some". */
export function patterns(part: string, choice: string, places: string[]): string[] {
  if (choice === 'inlet' || choice === 'exhaust') return [`${part}/*/${choice}`]
  return choice === 'some' ? places : []
}

/** "everywhere", "inlet only", "bore 3 and bore 4" */
export function whereWords(type: EngineType | null, patterns: string[]): string {
  if (!patterns.length) return 'everywhere'
  return patterns
    .map((pattern) => {
      const [part, ...rest] = pattern.split('/')
      const name = PARTS[part!]?.name ?? part!
      if (rest.length === 2 && rest[0] === '*') return `${rest[1]} ${name}s`
      return rest.includes('*') ? `${name} ${rest.join(' ').replaceAll('*', 'any')}` : placeName(type, pattern)
    })
    .join(', ')
}
