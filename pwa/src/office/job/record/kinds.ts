import { GROUPS, KINDS } from '../../../trade/record/kinds.ts'

/** What a kind of record is called. */
export function kindWords(kind: string): string {
  return KINDS[kind]?.words.toLowerCase() ?? kind.replaceAll('_', ' ')
}

export interface KindGroup {
  words: string
  /** Kind and the number of its records. */
  kinds: [string, number][]
}

/** The kinds that a job has records of, as the filter offers them: group by group, in the order of the groups. */
export function kindGroups(counts: Record<string, number>): KindGroup[] {
  const there = Object.entries(counts).filter(([, n]) => n > 0)
  const grouped = Object.entries(GROUPS).map(([group, words]) => ({ words, kinds: there.filter(([kind]) => KINDS[kind]?.group === group) }))
  const others = { words: 'Others', kinds: there.filter(([kind]) => !KINDS[kind]) }
  return [...grouped, others].filter(({ kinds }) => kinds.length > 0)
}
