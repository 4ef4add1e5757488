import { KINDS } from '../../trade/kinds.ts'

/** What a kind of record is called. */
export function kindWords(kind: string): string {
  return KINDS[kind]?.words.toLowerCase() ?? kind.replaceAll('_', ' ')
}
