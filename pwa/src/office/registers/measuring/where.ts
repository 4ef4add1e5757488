// Where a limit or size applies, in plain words and in the patterns that are written down.

import { placeName } from '../../../trade/engine/locations.ts'
import { type EngineType, PARTS } from '../../../trade/engine/parts.ts'
import { say } from '../../frame/say.ts'
import type { Option } from '../form/schema.ts'

/** What can be chosen from for a part: everywhere, inlet or exhaust, or some places of it. */
export function choices(part: string): Option[] {
  const per = PARTS[part]?.per
  const all = { value: '', words: say('registers.where_all') }
  const some = { value: 'some', words: say('registers.where_some') }
  if (per === 'valve' || per === 'lobe') {
    return [all, { value: 'inlet', words: say('registers.where_inlet') }, { value: 'exhaust', words: say('registers.where_exhaust') }, some]
  }
  return per === 'once' || per === 'whole' ? [all] : [all, some]
}

/** Which choice a list of patterns means. */
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

/** "everywhere", "valve: inlet only", "bore 3, bore 4" */
export function whereWords(type: EngineType | null, patterns: string[]): string {
  return patterns.length ? patterns.map((pattern) => patternWords(type, pattern)).join(', ') : say('registers.everywhere')
}

function patternWords(type: EngineType | null, pattern: string): string {
  const [code = '', ...rest] = pattern.split('/')
  const part = PARTS[code]?.name ?? code
  if (rest.length === 2 && rest[0] === '*') {
    if (rest[1] === 'inlet') return say('registers.inlet_of', { part })
    if (rest[1] === 'exhaust') return say('registers.exhaust_of', { part })
  }
  return rest.includes('*') ? rest.reduce((words, step) => `${words} ${step === '*' ? say('registers.any') : step}`, part) : placeName(type, pattern)
}
